"""Each swap on its own, and what headroom costs."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from reformulate import (
    SYSTEMS,
    BadInput,
    BatchHold,
    Brief,
    Goal,
    GoalResult,
    Line,
    Optimiser,
    Per,
    Recipe,
    Stopped,
    Swap,
    explore,
    food_table,
    headroom_costs,
    prospect_words,
    result_words,
    weigh_recipe,
)

FOODS = food_table()
RECIPE = Recipe(
    title="Invented dip",
    servings=6,
    lines=(
        Line(id="cream-cheese", food="cream-cheese", grams=200.0),
        Line(id="sour-cream", food="sour-cream", grams=120.0),
    ),
)
BATCH = weigh_recipe(RECIPE, FOODS, SYSTEMS["us"])
SWAPS = tuple(
    Swap(food=food, stands_in_for=("cream-cheese",))
    for food in ("cream-cheese-neufchatel", "cottage-cheese-2", "yogurt-strained-nonfat")
)
BRIEF = Brief(
    goals=(Goal(nutrient="energy_kcal", at_most=110.0),), holds=(BatchHold(),), swaps=SWAPS
)


def test_each_swap_is_in_use_and_no_other() -> None:
    for prospect in explore(BATCH, BRIEF, FOODS, SWAPS):
        answer = prospect.answer
        assert answer is not None
        assert [s.food for s in answer.items.swaps] == [prospect.swap.food]
        assert prospect.grams >= 15.0  # a tablespoon: common practice


def test_each_answer_is_that_of_the_brief_with_the_swap_alone() -> None:
    for prospect in explore(BATCH, BRIEF, FOODS, SWAPS):
        alone = replace(BRIEF, swaps=(replace(prospect.swap, pinned=True),))
        expected = Optimiser(BATCH, alone, FOODS).answer(alone)
        assert prospect.answer is not None
        np.testing.assert_allclose(prospect.answer.grams, expected.grams)


def test_what_comes_nearest_to_the_goals_stands_first() -> None:
    found = explore(BATCH, BRIEF, FOODS, SWAPS)
    missed = [prospect.missed for prospect in found]
    assert missed == sorted(missed)
    met = [p.answer.changes for p in found if p.answer and p.missed == 0]
    assert met == sorted(met)


def test_words_name_goals_change_and_taste() -> None:
    words = prospect_words(explore(BATCH, BRIEF, FOODS, SWAPS)[0], "A swap")
    assert words.startswith("A swap for cream-cheese: ")
    assert "✓ 110 kcal" in words
    assert "changes" in words
    assert "richness −" in words


def test_a_level_that_misses_its_limit_never_reads_as_if_it_were_on_it() -> None:
    goal = Goal(nutrient="protein_g", at_least=100.0, per=Per.ORIGINAL)
    for level, told in ((99.97, "! 99.97 %"), (98.6, "! 99 %"), (100.0, "✓ 100 %")):
        missed = max(0.0, 100.0 - level)
        result = GoalResult(
            goal=goal, level=level, original=100.0, misses_by=missed, at_least=False
        )
        assert result_words(result) == told


def test_a_swap_that_is_wrong_tells_why_and_does_not_stop_the_others() -> None:
    wrong = Swap(food="dill", stands_in_for=("no-such-line",))
    found = explore(BATCH, BRIEF, FOODS, (wrong, *SWAPS))
    assert len(found) == 4
    assert found[-1].answer is None
    assert found[-1].problems


def test_exploring_can_be_given_up() -> None:
    with pytest.raises(Stopped):
        explore(BATCH, BRIEF, FOODS, SWAPS, progress=lambda _: False)


def test_headroom_costs_what_the_answer_moves_more() -> None:
    bare = BRIEF
    roomy = bare.with_goal(replace(bare.goals[0], headroom=0.1))

    def moved(brief: Brief) -> float:
        exact = Optimiser(BATCH, brief, FOODS).exact(brief)
        return float(np.abs(exact.grams - exact.model.items.original).sum())

    (cost,) = headroom_costs(BATCH, roomy, FOODS)
    assert cost.grams == pytest.approx(moved(roomy) - moved(bare))
    assert cost.changes > 0
    assert headroom_costs(BATCH, bare, FOODS) == ()


def test_headroom_that_only_its_absence_makes_possible_has_no_price() -> None:
    optimiser = Optimiser(BATCH, BRIEF, FOODS)
    reach = optimiser.answer(BRIEF).reach_of("energy_kcal")
    assert reach is not None
    tight = BRIEF.with_goal(Goal(nutrient="energy_kcal", at_most=reach.low * 1.01, headroom=0.05))
    (cost,) = headroom_costs(BATCH, tight, FOODS)
    assert cost.changes == np.inf


def test_a_wrong_brief_is_told() -> None:
    with pytest.raises(BadInput):
        headroom_costs(
            BATCH, BRIEF.with_goal(Goal(nutrient="energy", at_most=1.0, headroom=0.1)), FOODS
        )

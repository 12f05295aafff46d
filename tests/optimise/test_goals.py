"""Goals are met by the amounts shown, as a plain sum over the food table finds them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given

from reformulate import (
    Answer,
    BatchHold,
    Brief,
    Goal,
    GoalResult,
    Line,
    Per,
    Recipe,
    Status,
    Swap,
    level,
    nutrition_of,
)
from tests.optimise.dips import CREAMY, PAIR, answer, closest, grams_of
from tests.recipes.plain_sums import COLUMN, item_foods, level_in, original_grams
from tests.strategies import Case, cases, harsh_cases

ENERGY = "energy_kcal"
HELD = (BatchHold(),)


def shown_level(found: Answer, goal: Goal) -> float:
    recipe = found.batch.recipe
    foods = item_foods(recipe, found.brief)
    return level_in(recipe, foods, found.grams.tolist(), goal.nutrient, goal.per)


def only(goal: Goal, recipe: Recipe = CREAMY, **brief: object) -> tuple[Answer, GoalResult]:
    found = answer(recipe, Brief(goals=(goal,), holds=HELD, **brief))  # type: ignore[arg-type]
    (result,) = found.goals
    return found, result


@pytest.mark.parametrize(
    "goal",
    [
        Goal(nutrient=ENERGY, at_most=180.0),
        Goal(nutrient="protein_g", at_least=4.0),
        Goal(nutrient="fat_g", at_least=13.0, at_most=14.0),
        Goal(nutrient=ENERGY, at_most=230.0, per=Per.HUNDRED_GRAMS),
        Goal(nutrient="protein_g", at_least=4.5, per=Per.HUNDRED_GRAMS),
        Goal(nutrient="fat_g", at_least=25.0, at_most=25.5, per=Per.HUNDRED_GRAMS),
        Goal(nutrient="fat_g", at_most=86.0, per=Per.ENERGY),
        Goal(nutrient="protein_g", at_least=7.0, per=Per.ENERGY),
        Goal(nutrient="carbohydrate_g", at_least=6.0, at_most=6.5, per=Per.ENERGY),
        Goal(nutrient=ENERGY, at_most=75.0, per=Per.ORIGINAL),
        Goal(nutrient="protein_g", at_least=110.0, per=Per.ORIGINAL),
        Goal(nutrient="sodium_mg", at_least=80.0, at_most=81.0, per=Per.ORIGINAL),
    ],
    ids=lambda goal: f"{goal.nutrient}-{goal.per}-{goal.at_least}-{goal.at_most}",
)
def test_a_goal_is_met_by_the_amounts_shown(goal: Goal) -> None:
    start = original_grams(CREAMY, Brief())
    before = level_in(CREAMY, item_foods(CREAMY, Brief()), start, goal.nutrient, goal.per)
    assert not (goal.at_least or 0) <= before <= (goal.at_most or math.inf)
    found, result = only(goal)
    after = shown_level(found, goal)
    assert found.status is Status.OPTIMAL
    assert (goal.at_least or 0.0) * (1 - 1e-9) <= after <= (goal.at_most or math.inf) * (1 + 1e-9)
    assert result.met
    assert result.misses_by == 0.0
    assert result.level == pytest.approx(after)
    assert result.original == pytest.approx(before)


@given(cases())
def test_every_goal_an_answer_can_meet_is_met_by_the_amounts_shown(case: Case) -> None:
    found = closest(case.recipe, case.brief)
    assert found.status is Status.OPTIMAL
    for result in found.goals:
        after = shown_level(found, result.goal)
        assert result.met
        assert after >= (result.goal.at_least or 0.0) * (1 - 1e-9) - 1e-9
        assert after <= (result.goal.at_most or math.inf) * (1 + 1e-9) + 1e-9


@given(harsh_cases())
def test_what_is_said_of_a_goal_is_true_of_the_amounts_shown(case: Case) -> None:
    found = closest(case.recipe, case.brief)
    for result in found.goals:
        after, goal = shown_level(found, result.goal), result.goal
        least = -math.inf if goal.at_least is None else goal.at_least
        most = math.inf if goal.at_most is None else goal.at_most
        missed = max(least - after, after - most, 0.0)
        assert result.level == pytest.approx(after, rel=1e-9, abs=1e-9)
        assert result.misses_by == pytest.approx(missed, rel=1e-6, abs=2e-6 * max(1, after))
        assert result.met == (result.misses_by == 0.0)
    assert (found.status is Status.OPTIMAL) == (
        all(result.met for result in found.goals) and not found.holds
    )


@given(harsh_cases())
def test_every_figure_of_an_answer_is_that_of_the_amounts_shown(case: Case) -> None:
    found = closest(case.recipe, case.brief)
    foods = item_foods(case.recipe, case.brief)
    for key, column in COLUMN.items():
        after = level_in(case.recipe, foods, found.grams.tolist(), key, Per.SERVING)
        assert found.achieved.per_serving[column] == pytest.approx(after, rel=1e-9, abs=1e-9)
    original = nutrition_of(found.batch)
    assert found.original.totals.tolist() == pytest.approx(original.totals.tolist(), rel=1e-12)
    assert [amount.after for amount in found.amounts] == found.grams.tolist()
    assert [amount.before for amount in found.amounts[: len(case.recipe.lines)]] == [
        line.grams for line in case.recipe.lines
    ]


def test_a_miss_of_a_hundred_thousandth_is_a_miss() -> None:
    # Two creams of 300 g held exactly, 4 servings: the least energy is 300 g of yogurt, 59 kcal
    # per 100 g (NDB 01256, SR28).
    least = 3 * 59 / 4
    holds = (BatchHold(tolerance=0.0),)
    near = Goal(nutrient=ENERGY, at_most=least * (1 - 1e-5))
    found = answer(PAIR, Brief(goals=(near,), holds=holds))
    assert found.status is Status.CONFLICT
    assert not found.goals[0].met
    assert found.goals[0].misses_by == pytest.approx(least * 1e-5, rel=1e-3)
    within = Goal(nutrient=ENERGY, at_most=least * (1 + 1e-6))
    found = answer(PAIR, Brief(goals=(within,), holds=holds))
    assert found.status is Status.OPTIMAL
    assert found.goals[0].met


def test_nothing_changes_where_the_original_meets_the_goals() -> None:
    found, _ = only(Goal(nutrient=ENERGY, at_most=1000.0))
    assert found.grams.tolist() == found.exact.tolist() == [240, 225, 110, 15, 6, 3]
    assert not any(amount.moved for amount in found.amounts)


def test_a_level_is_said_in_the_unit_its_goal_is_in() -> None:
    found, _ = only(Goal(nutrient=ENERGY, at_most=1000.0))
    for per in Per:
        after = level("fat_g", per, found.grams, found.items, CREAMY.servings)
        assert after == pytest.approx(
            level_in(CREAMY, item_foods(CREAMY, Brief()), found.grams.tolist(), "fat_g", per)
        )


def test_a_goal_on_a_total_with_unknown_figures_names_their_foods() -> None:
    sweet = Recipe(
        title="t",
        servings=2,
        lines=(
            Line(id="a", food="sour-cream", grams=100.0),
            Line(id="b", food="sour-cream-fat-free", grams=50.0),
        ),
    )
    _, result = only(Goal(nutrient="added_sugars_g", at_most=5.0), sweet)
    assert result.at_least
    assert result.unknown == ("Sour cream, fat free",)
    _, result = only(Goal(nutrient=ENERGY, at_most=500.0), sweet)
    assert not result.at_least
    assert result.unknown == ()


def test_an_unknown_figure_of_a_swap_counts_only_where_the_swap_is_used() -> None:
    goal = Goal(nutrient="added_sugars_g", at_most=50.0)
    swap = Swap(food="sour-cream-fat-free", stands_in_for=("sour-cream",))
    found, result = only(goal, PAIR, swaps=(swap,))
    assert grams_of(found)["sour-cream-fat-free"] == 0.0
    assert not result.at_least
    assert not found.achieved.at_least[COLUMN["added_sugars_g"]]
    brief = Brief(
        goals=(goal, Goal(nutrient="fat_g", at_most=2.0), Goal(nutrient="protein_g", at_most=4.5)),
        holds=HELD,
        swaps=(swap,),
    )
    found = answer(PAIR, brief)
    assert grams_of(found)["sour-cream-fat-free"] > 0
    assert found.goals[0].at_least
    assert found.achieved.at_least[COLUMN["added_sugars_g"]]


def test_goals_in_all_units_are_met_together() -> None:
    goals = (
        Goal(nutrient=ENERGY, at_most=170.0),
        Goal(nutrient="fat_g", at_most=85.0, per=Per.ENERGY),
        Goal(nutrient="protein_g", at_least=4.6, per=Per.HUNDRED_GRAMS),
        Goal(nutrient="sodium_mg", at_most=90.0, per=Per.ORIGINAL),
    )
    swap = Swap(food="yogurt-strained-nonfat", stands_in_for=("sour-cream", "mayonnaise"))
    found = answer(CREAMY, Brief(goals=goals, holds=HELD, swaps=(swap,)))
    assert found.status is Status.OPTIMAL
    for goal in goals:
        after = shown_level(found, goal)
        assert after <= (goal.at_most or math.inf) * (1 + 1e-9)
        assert after >= (goal.at_least or 0.0) * (1 - 1e-9)


@pytest.mark.parametrize("in_order", [True, False])
def test_of_two_limits_on_one_nutrient_the_stricter_holds_whichever_comes_first(
    in_order: bool,
) -> None:
    protein = answer(PAIR, Brief()).original.per_serving[COLUMN["protein_g"]]
    strict = Goal(nutrient="protein_g", at_least=1.2 * protein, at_most=1.3 * protein)
    loose = Goal(nutrient="protein_g", at_least=50.0, at_most=150.0, per=Per.ORIGINAL)
    goals = (strict, loose) if in_order else (loose, strict)
    found = answer(PAIR, Brief(goals=goals, holds=(BatchHold(),)))
    assert found.status is Status.OPTIMAL
    assert found.achieved.per_serving[COLUMN["protein_g"]] >= 1.2 * protein * (1 - 1e-9)


def test_a_brief_may_show_no_nutrient() -> None:
    found = answer(PAIR, Brief(shown=()))
    assert found.grams.tolist() == [200.0, 100.0]
    assert found.reach == ()


def test_reach_shown_as_a_share_of_energy_is_per_serving_for_what_has_no_share() -> None:
    found = answer(PAIR, Brief(holds=HELD, shown_per=Per.ENERGY))
    units = {reach.nutrient: reach.per for reach in found.reach}
    assert units["fat_g"] is units["protein_g"] is Per.ENERGY
    assert units[ENERGY] is units["sodium_mg"] is units["fibre_g"] is Per.SERVING
    assert all(reach.low <= reach.high for reach in found.reach)


def test_a_dish_of_nothing_has_figures_too() -> None:
    found = answer(PAIR, Brief(goals=(Goal(nutrient=ENERGY, at_most=0.0),)))
    assert found.grams.tolist() == [0.0, 0.0]
    assert found.achieved.per_serving[COLUMN[ENERGY]] == 0.0
    assert not found.achieved.per_100g[COLUMN[ENERGY]] > 0.0

"""Measured answers of the demo set: what a cook reads, recomputed in plain Python."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from reformulate import (
    QUANTITY_INDEX,
    SYSTEMS,
    Answer,
    CharacterHold,
    Goal,
    Optimiser,
    Status,
    food_table,
    measured_answer,
    read_document,
    weigh_recipe,
)
from tests.optimise.plain import write_out

FOODS, US = food_table(), SYSTEMS["us"]
SET = Path(__file__).parents[2] / "sample_sets" / "harvest-evening"
RECIPES = sorted(path.stem for path in SET.glob("*.toml") if path.stem != "set")
ENERGY = QUANTITY_INDEX["energy_kcal"]


def exact_with(name: str, *goals: Goal, bare: bool = False) -> Answer:
    document = read_document(SET / f"{name}.toml")
    batch = weigh_recipe(document.recipe, FOODS, US)
    brief = replace(document.brief, goals=()) if bare else document.brief
    for goal in goals:
        brief = brief.with_goal(goal)
    return Optimiser(batch, brief, FOODS).answer(brief)


@pytest.mark.parametrize("share", [0.9, 0.8, 0.7])
@pytest.mark.parametrize("name", RECIPES)
def test_every_must_that_grams_keep_is_kept_by_the_amounts_measured(
    name: str, share: float
) -> None:
    original = float(exact_with(name, bare=True).original.per_serving[ENERGY])
    goal = Goal(nutrient="energy_kcal", at_most=round(original * share))
    answer = exact_with(name, goal, bare=True)
    found = measured_answer(answer, US)
    assert found.measured is not None
    assert found.measured.proven
    if answer.status is Status.CONFLICT:  # what grams cannot keep, spoons and cups cannot either
        assert found.status is Status.CONFLICT
        assert all(
            measured.misses_by >= exact.misses_by - 1e-6
            for measured, exact in zip(found.goals, answer.goals, strict=True)
        )
        return
    assert not found.measured.in_the_way
    recipe = found.batch.recipe
    grams = found.batch.grams.tolist()
    recipe = replace(
        recipe,
        lines=tuple(replace(line, grams=g) for line, g in zip(recipe.lines, grams, strict=True)),
    )
    holds = tuple(hold for hold in answer.brief.holds if not isinstance(hold, CharacterHold))
    plain = write_out(recipe, replace(answer.brief, holds=holds))
    assert plain.worst(found.grams.tolist()) <= 1e-6


@pytest.mark.parametrize(
    ("name", "most"),
    [
        ("hot-spinach-artichoke-dip", 15),
        ("smoked-trout-spread", 5),
        ("roasted-pepper-walnut-spread", 12),
    ],
)
def test_the_ready_briefs_take_few_scoops(name: str, most: int) -> None:
    found = measured_answer(exact_with(name), US)
    assert found.status is Status.OPTIMAL
    assert found.measured is not None
    assert sum(one.scoops for one in found.measured.amounts if one is not None) <= most


def test_a_reach_holds_what_the_measured_amounts_have_where_spoons_are_too_coarse() -> None:
    answer = exact_with("hot-spinach-artichoke-dip", Goal(nutrient="energy_kcal", at_most=70.0))
    found = measured_answer(answer, US)
    protein = next(result for result in found.goals if result.goal.nutrient == "protein_g")
    reach = found.reach_of("protein_g")
    assert reach is not None
    assert reach.low <= protein.level <= reach.high
    before = answer.reach_of("protein_g")
    assert before is not None
    assert not before.low <= protein.level <= before.high


def test_a_line_that_goes_out_weighs_nothing_and_not_minus_nothing() -> None:
    document = read_document(SET / "smoked-trout-spread.toml")
    batch = weigh_recipe(document.recipe, FOODS, US)
    brief = document.brief.with_goal(Goal(nutrient="energy_kcal", at_most=90.0))
    grams = Optimiser(batch, brief, FOODS).answer(brief).grams.tolist()
    assert 0.0 in grams
    assert not any(str(mass).startswith("-") for mass in grams)

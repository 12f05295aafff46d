"""A warm optimiser answers as a cold one does, whatever it was asked before."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import (
    Answer,
    BatchHold,
    Brief,
    Goal,
    Line,
    Optimiser,
    Per,
    RatioHold,
    Recipe,
    Swap,
)
from tests.optimise.dips import CREAMY, answer
from tests.recipes.plain_sums import FOODS
from tests.strategies import Case, cases, harsh_cases, weighed


def moved(brief: Brief, factor: float) -> Brief:
    """The same goals with other limits, the lower never above the upper."""
    return replace(
        brief,
        goals=tuple(
            replace(
                goal,
                at_least=None if goal.at_least is None else goal.at_least * min(factor, 1.0),
                at_most=None if goal.at_most is None else goal.at_most * factor,
            )
            for goal in brief.goals
        ),
    )


def assert_same(warm: Answer, cold: Answer) -> None:
    assert warm.status is cold.status
    # 1e-5 g: where goals give way, the limits they give to are known to 1e-9 of their size.
    np.testing.assert_allclose(warm.exact, cold.exact, rtol=1e-7, atol=1e-5)
    for one, other in zip(warm.reach, cold.reach, strict=True):
        assert (one.nutrient, one.per) == (other.nutrient, other.per)
        assert one.low == pytest.approx(other.low, rel=1e-6, abs=1e-6)
        assert one.high == pytest.approx(other.high, rel=1e-6, abs=1e-6)


@given(cases() | harsh_cases(), st.lists(st.sampled_from([0.2, 0.6, 0.9, 1.0, 1.3]), max_size=3))
def test_a_warm_answer_is_the_cold_one_whatever_came_before(
    case: Case, before: list[float]
) -> None:
    batch = weighed(case.recipe)
    first = moved(case.brief, 0.7)
    optimiser = Optimiser(batch, first, FOODS)
    for factor in before:
        optimiser.answer(moved(case.brief, factor))
    assert_same(
        optimiser.answer(case.brief), Optimiser(batch, case.brief, FOODS).answer(case.brief)
    )


@given(cases())
def test_asking_again_gives_the_same_to_the_letter(case: Case) -> None:
    one, other = answer(case.recipe, case.brief), answer(case.recipe, case.brief)
    assert one.grams.tolist() == other.grams.tolist()
    assert one.exact.tolist() == other.exact.tolist()


def test_a_handle_dragged_there_and_back_gives_the_same_amounts() -> None:
    swap = Swap(food="yogurt-strained-nonfat", stands_in_for=("sour-cream", "mayonnaise"))
    for per, limits in (
        (Per.SERVING, (220.0, 180.0, 150.0, 90.0, 10.0)),
        (Per.HUNDRED_GRAMS, (300.0, 240.0, 200.0, 100.0, 10.0)),
        (Per.ORIGINAL, (95.0, 80.0, 60.0, 40.0, 10.0)),
    ):
        brief = Brief(
            goals=(Goal(nutrient="energy_kcal", at_most=limits[0], per=per),),
            holds=(BatchHold(), RatioHold(of=("garlic",), to=("role:base",))),
            swaps=(swap,),
        )
        optimiser = Optimiser(weighed(CREAMY), brief, FOODS)
        seen: dict[float, list[float]] = {}
        for limit in (*limits, *reversed(limits)):
            asked = brief.with_goal(Goal(nutrient="energy_kcal", at_most=limit, per=per))
            grams = optimiser.answer(asked).grams.tolist()
            assert grams == seen.setdefault(limit, grams)
            assert grams == answer(CREAMY, asked).grams.tolist()


def test_a_brief_fits_where_only_limits_differ() -> None:
    batch = weighed(CREAMY)
    goal = Goal(nutrient="fat_g", at_most=10.0, per=Per.HUNDRED_GRAMS)
    brief = Brief(goals=(goal,), holds=(BatchHold(),))
    optimiser = Optimiser(batch, brief, FOODS)
    assert optimiser.fits(batch, brief.with_goal(replace(goal, at_most=None, at_least=5.0)))
    assert optimiser.fits(batch, brief.with_goal(Goal(nutrient="energy_kcal", at_most=9.0)))
    assert not optimiser.fits(batch, brief.with_goal(replace(goal, per=Per.SERVING)))
    assert not optimiser.fits(batch, replace(brief, holds=()))
    assert not optimiser.fits(batch, replace(brief, swap_band=0.5))
    assert not optimiser.fits(weighed(CREAMY), brief)


def test_a_goal_may_come_and_go_in_a_warm_optimiser() -> None:
    batch = weighed(CREAMY)
    none = Brief(holds=(BatchHold(),))
    one = none.with_goal(Goal(nutrient="energy_kcal", at_most=150.0))
    optimiser = Optimiser(batch, none, FOODS)
    start = optimiser.answer(none).grams.tolist()
    assert start == batch.grams.tolist()
    assert optimiser.answer(one).grams.tolist() == answer(CREAMY, one).grams.tolist()
    assert optimiser.answer(none).grams.tolist() == start


def test_the_amounts_shown_do_not_depend_on_the_brief_the_optimiser_was_built_for() -> None:
    recipe = Recipe(
        title="t",
        servings=8,
        lines=tuple(
            Line(id=food, food=food, grams=300.0)
            for food in ("sour-cream", "yogurt-strained-nonfat", "cream-cheese")
        ),
    )
    wanted = Goal(nutrient="fat_g", at_most=12.6, per=Per.HUNDRED_GRAMS)
    ratio = RatioHold(of=("yogurt-strained-nonfat",), to=("sour-cream",))
    brief = Brief(goals=(wanted,), holds=(BatchHold(), ratio))
    other = brief.with_goal(replace(wanted, at_most=16.3))
    optimiser = Optimiser(weighed(recipe), other, FOODS)
    optimiser.answer(other)
    assert optimiser.answer(brief).grams.tolist() == answer(recipe, brief).grams.tolist()

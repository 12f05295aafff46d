"""Reach: the ends are those of independent programs, and a goal at an end is just met."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import (
    ENERGY_FACTORS,
    Answer,
    BatchHold,
    Brief,
    Goal,
    Line,
    Per,
    RatioHold,
    Reach,
    Recipe,
    Status,
)
from tests.optimise.dips import CREAMY, PAIR, answer
from tests.optimise.plain import write_out
from tests.optimise.plain_solvers import extreme, extreme_ratio
from tests.recipes.plain_sums import (
    brought_by_a_gram,
    item_foods,
    kept_of_a_gram,
    level_in,
    original_grams,
)
from tests.strategies import Case, asked, cases, with_energy


def plain_reach(case: Case, key: str, per: Per) -> tuple[float, float]:
    """Both ends by SciPy, a program each, with no goal on the nutrient."""
    recipe, brief = case.recipe, case.brief
    without = replace(brief, goals=tuple(g for g in brief.goals if g.nutrient != key))
    problem = write_out(recipe, without)
    foods = item_foods(recipe, brief)
    who = [*recipe.lines, *[None] * (len(foods) - len(recipe.lines))]
    top = [
        brought_by_a_gram(recipe, line, food, key) for line, food in zip(who, foods, strict=True)
    ]
    ends = []
    for sign in (1, -1):
        if per is Per.SERVING:
            end, unit = extreme(problem, top, sign), recipe.servings
        elif per is Per.ORIGINAL:
            end = extreme(problem, top, sign)
            start = original_grams(recipe, brief)
            unit = sum(c * g for c, g in zip(top, start, strict=True)) / 100
        else:
            whole = [
                kept_of_a_gram(recipe, line, food) / 100
                if per is Per.HUNDRED_GRAMS
                else brought_by_a_gram(recipe, line, food, "energy_kcal")
                for line, food in zip(who, foods, strict=True)
            ]
            unit = 1 / (100 * ENERGY_FACTORS[key]) if per is Per.ENERGY else 1.0
            end = extreme_ratio(problem, top, whole, sign)
        assert end is not None
        ends.append(end / unit)
    return ends[0], ends[1]


def same(value: float) -> object:
    return pytest.approx(value, rel=1e-6, abs=1e-6)


def reach_of(found: Answer, key: str) -> Reach:
    reach = found.reach_of(key)
    assert reach is not None
    return reach


@given(cases())
def test_reach_per_serving_is_what_two_cold_programs_find(case: Case) -> None:
    found = answer(case.recipe, case.brief)
    for reach in found.reach:
        low, high = plain_reach(case, reach.nutrient, reach.per)
        assert reach.low == same(low)
        assert reach.high == same(high)


@given(asked(pers=(Per.HUNDRED_GRAMS, Per.ORIGINAL)))
def test_reach_in_the_unit_of_a_goal_is_what_two_cold_programs_find(
    drawn: tuple[Case, str, Per],
) -> None:
    case, key, per = drawn
    brief = case.brief.with_goal(Goal(nutrient=key, at_least=0.0, per=per))
    case = replace(case, brief=brief)
    reach = reach_of(answer(case.recipe, brief), key)
    assert reach.per is per
    low, high = plain_reach(case, key, per)
    assert reach.low == same(low)
    assert reach.high == same(high)


@given(
    cases().map(with_energy),
    st.sampled_from(["protein_g", "fat_g", "carbohydrate_g", "saturated_g"]),
)
def test_reach_as_a_share_of_energy_is_what_two_cold_programs_find(case: Case, key: str) -> None:
    goal = Goal(nutrient=key, at_least=0.0, per=Per.ENERGY)
    case = replace(case, brief=case.brief.with_goal(goal))
    reach = reach_of(answer(case.recipe, case.brief), key)
    low, high = plain_reach(case, key, Per.ENERGY)
    assert reach.low == same(low)
    assert reach.high == same(high)


@given(cases())
def test_what_an_answer_reaches_lies_in_its_reach(case: Case) -> None:
    found = answer(case.recipe, case.brief)
    foods = item_foods(case.recipe, case.brief)
    for reach in found.reach:
        after = level_in(case.recipe, foods, found.grams.tolist(), reach.nutrient, reach.per)
        slack = 1e-6 * max(1.0, abs(after))
        assert reach.low - slack <= after <= reach.high + slack


@given(asked(most_goals=2), st.booleans())
def test_a_goal_just_inside_an_end_is_met_and_one_just_outside_is_not(
    drawn: tuple[Case, str, Per], is_low: bool
) -> None:
    """Outside by a ten thousandth of the end, or a millionth of the reach where that is more."""
    case, key, per = drawn
    brief = case.brief.with_goal(Goal(nutrient=key, per=per, at_least=0.0))
    reach = reach_of(answer(case.recipe, brief), key)
    assert math.isfinite(reach.high)
    by = max(1e-4 * reach.low, 1e-6 * reach.high, 1e-5)
    if is_low and reach.low <= by:
        is_low = False  # nothing is less than nothing
    end, inwards = (reach.low, 1) if is_low else (reach.high, -1)

    def status_of(limit: float) -> Status:
        goal = Goal(nutrient=key, per=per)
        goal = replace(goal, at_most=limit) if is_low else replace(goal, at_least=limit)
        return answer(case.recipe, case.brief.with_goal(goal)).status

    assert status_of(end * (1 + inwards * 1e-6)) is Status.OPTIMAL
    assert status_of(end) is Status.OPTIMAL
    assert status_of(end - inwards * max(1e-4 * end, by)) is Status.CONFLICT


@pytest.mark.parametrize("beyond", [0.0, 1e-6, 1e-4, 1e-3])
def test_a_low_limit_beside_something_very_salty_is_met(beyond: float) -> None:
    """Whatever room is left: a solver that sees a billionth of a cube's sodium passes it by more."""
    foods = (
        ("avocado-california", "base", 762.2),
        ("pecans", "base", 100.0),
        ("tomatoes-sun-dried", "body", 43.0),
        ("bouillon-cube-chicken", "fat", 138.8),
        ("egg-yolk", "liquid", 247.1),
        ("oil-sunflower-high-oleic", "sweetener", 21.6),
        ("egg-white", "base", 347.0),
        ("mayonnaise-fat-free", "base", 341.9),
    )
    lines = tuple(Line(id=food, food=food, grams=grams, role=role) for food, role, grams in foods)
    recipe = Recipe(title="Salty", servings=13, lines=lines, moisture_loss_percent=18.0)
    brief = Brief(holds=(BatchHold(tolerance=0.355),))
    any_amount = Goal(nutrient="sodium_mg", at_least=0.0, per=Per.HUNDRED_GRAMS)
    low = reach_of(answer(recipe, brief.with_goal(any_amount)), "sodium_mg").low
    goal = Goal(nutrient="sodium_mg", at_most=low * (1 + beyond), per=Per.HUNDRED_GRAMS)
    found = answer(recipe, brief.with_goal(goal))
    assert found.status is Status.OPTIMAL
    assert found.goals[0].level <= low * (1 + beyond) * (1 + 1e-5)


@pytest.mark.parametrize("per", [Per.SERVING, Per.HUNDRED_GRAMS, Per.ORIGINAL])
def test_no_reach_is_less_than_nothing(per: Per) -> None:
    """Not by a solver's dust either: a limit at the end of a reach is one that can be asked for."""
    foods = (
        ("oil-sunflower-high-oleic", 21.6),
        ("pecans", 100.0),
        ("bouillon-cube-chicken", 138.8),
    )
    lines = tuple(Line(id=food, food=food, grams=grams) for food, grams in foods)
    recipe = Recipe(title="Oil", servings=13, lines=(*lines, *CREAMY.lines))
    brief = Brief(holds=(BatchHold(tolerance=0.355),))
    for key in ("sodium_mg", "protein_g", "fat_g", "carbohydrate_g", "cholesterol_mg"):
        goal = Goal(nutrient=key, at_least=0.0, per=per)
        low = reach_of(answer(recipe, brief.with_goal(goal)), key).low
        assert low >= 0.0
        nothing = replace(goal, at_least=None, at_most=low)
        assert answer(recipe, brief.with_goal(nothing)).status is Status.OPTIMAL


def test_reach_by_hand() -> None:
    # 300 g of two creams of 198 and 59 kcal per 100 g (NDB 01056 and 01256, SR28), 4 servings.
    found = answer(PAIR, Brief(holds=(BatchHold(tolerance=0.0),)))
    reach = reach_of(found, "energy_kcal")
    assert (reach.low, reach.high) == pytest.approx((3 * 59 / 4, 3 * 198 / 4))


def test_reach_leaves_the_goals_on_its_own_nutrient_out() -> None:
    held = Brief(holds=(BatchHold(),))
    free = reach_of(answer(CREAMY, held), "energy_kcal")
    goal = Goal(nutrient="energy_kcal", at_most=150.0)
    bound = reach_of(answer(CREAMY, held.with_goal(goal)), "energy_kcal")
    assert (bound.low, bound.high) == pytest.approx((free.low, free.high))


def test_reach_keeps_the_goals_on_other_nutrients() -> None:
    held = Brief(holds=(BatchHold(),))
    free = reach_of(answer(CREAMY, held), "energy_kcal")
    goal = Goal(nutrient="fat_g", at_least=12.0, at_most=14.0)
    bound = reach_of(answer(CREAMY, held.with_goal(goal)), "energy_kcal")
    assert free.low < bound.low < bound.high < free.high


def test_reach_has_no_end_where_nothing_stops_it() -> None:
    reach = reach_of(answer(CREAMY, Brief()), "energy_kcal")
    assert reach.low == pytest.approx(0.0)
    assert reach.high == math.inf


def test_reach_comes_for_what_is_shown_then_for_goals() -> None:
    goal = Goal(nutrient="iron_mg", at_most=3.0)
    brief = Brief(goals=(goal,), holds=(BatchHold(),), shown=("fat_g", "energy_kcal"))
    found = answer(CREAMY, brief)
    assert [reach.nutrient for reach in found.reach] == ["fat_g", "energy_kcal", "iron_mg"]
    assert found.reach_of("protein_g") is None


def test_reach_comes_in_the_unit_that_is_shown_unless_a_goal_has_its_own() -> None:
    goal = Goal(nutrient="fat_g", at_most=90.0, per=Per.ENERGY)
    brief = Brief(goals=(goal,), holds=(BatchHold(),), shown_per=Per.HUNDRED_GRAMS)
    units = {reach.nutrient: reach.per for reach in answer(CREAMY, brief).reach}
    assert units.pop("fat_g") is Per.ENERGY
    assert set(units.values()) == {Per.HUNDRED_GRAMS}


def test_reach_per_100_g_has_ends_without_a_batch_to_keep() -> None:
    # Whatever their amounts, 100 g of two creams lie between the one and the other.
    goal = Goal(nutrient="energy_kcal", at_most=150.0, per=Per.HUNDRED_GRAMS)
    reach = reach_of(answer(PAIR, Brief(goals=(goal,))), "energy_kcal")
    assert (reach.low, reach.high) == pytest.approx((59.0, 198.0))


def test_a_nutrient_the_original_has_none_of_can_be_asked_for_against_the_original() -> None:
    goal = Goal(nutrient="fibre_g", at_most=50.0, per=Per.ORIGINAL)
    assert answer(PAIR, Brief(goals=(goal,), holds=(BatchHold(),))).status is Status.OPTIMAL


def test_reach_can_be_shown_against_the_original() -> None:
    found = answer(PAIR, Brief(holds=(BatchHold(tolerance=0.0),), shown_per=Per.ORIGINAL))
    before = (2 * 198 + 59) / 100
    reach = reach_of(found, "energy_kcal")
    assert (reach.low, reach.high) == pytest.approx((177 / before, 594 / before))


def test_a_share_of_no_energy_does_not_stop_the_answer() -> None:
    brine = Recipe(
        title="t",
        servings=4,
        lines=(
            Line(id="water", food="water", grams=200.0),
            Line(id="salt-table", food="salt-table", grams=5.0, role="salt"),
        ),
    )
    goal = Goal(nutrient="fat_g", at_most=30.0, per=Per.ENERGY)
    found = answer(brine, Brief(goals=(goal,), holds=(BatchHold(),)))
    assert found.grams.tolist() == [200.0, 5.0]


def test_reach_of_a_dish_that_may_shrink_to_nothing_is_a_number() -> None:
    # Ratio and goal forbid the original; without a batch to keep, no dish at all is allowed too.
    goal = Goal(nutrient="energy_kcal", at_most=150.0, per=Per.HUNDRED_GRAMS)
    ratio = RatioHold(of=("sour-cream",), to=("yogurt-strained-nonfat",), ratio=1.0, tolerance=0.0)
    reach = reach_of(answer(PAIR, Brief(goals=(goal,), holds=(ratio,))), "energy_kcal")
    assert (reach.low, reach.high) == pytest.approx((128.5, 128.5))

"""Laws every optimum obeys."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import Answer, Goal, Line, LineHold, Per, Recipe, Status
from tests.optimise.dips import closest
from tests.optimise.plain import FLOORS, write_out
from tests.recipes.plain_sums import item_foods, level_in
from tests.strategies import Case, asked, cases, swaps_for


def changes(case: Case) -> float:
    """Sum of relative changes of the answer to a case that can be met."""
    found = closest(case.recipe, case.brief)
    assert found.status is Status.OPTIMAL
    return cost_of(case, found)


def cost_of(case: Case, found: Answer) -> float:
    return write_out(case.recipe, case.brief).changes(found.exact)


def without_goals_on(case: Case, key: str) -> Case:
    goals = tuple(goal for goal in case.brief.goals if goal.nutrient != key)
    return replace(case, brief=replace(case.brief, goals=goals))


def close(value: float) -> object:
    return pytest.approx(value, rel=1e-6, abs=1e-7)


@given(cases(), st.floats(0.0, 1.0))
def test_loosening_goals_never_costs_more(case: Case, by: float) -> None:
    looser = tuple(
        replace(
            goal,
            at_least=None if goal.at_least is None else goal.at_least * (1 - by),
            at_most=None if goal.at_most is None else goal.at_most * (1 + by),
        )
        for goal in case.brief.goals
    )
    loose = replace(case, brief=replace(case.brief, goals=looser))
    assert changes(loose) <= changes(case) * (1 + 1e-7) + 1e-7


@given(cases(), st.data())
def test_dropping_a_hold_never_costs_more(case: Case, data: st.DataObject) -> None:
    drop = data.draw(st.sampled_from(case.brief.holds))
    fewer = tuple(hold for hold in case.brief.holds if hold is not drop)
    free = replace(case, brief=replace(case.brief, holds=fewer))
    assert changes(free) <= changes(case) * (1 + 1e-7) + 1e-7


@given(cases(most_swaps=0), st.data())
def test_allowing_swaps_never_costs_more(case: Case, data: st.DataObject) -> None:
    """As long as what is best without them is within the band that comes with them."""
    found = closest(case.recipe, case.brief)
    moved = {
        line.id: abs(mass / float(line.grams or 0.0) - 1)
        for line, mass in zip(case.recipe.lines, found.exact.tolist(), strict=True)
    }
    near = tuple(line for line in case.recipe.lines if moved[line.id] <= 0.9)
    swaps = tuple(
        replace(swap, allowed=True)
        for swap in data.draw(swaps_for(replace(case.recipe, lines=near), least=1))
    )
    band = max(moved[name] for swap in swaps for name in swap.stands_in_for)
    brief = replace(case.brief, swaps=swaps, swap_band=band + 0.01)
    assert found.status is Status.OPTIMAL
    assert changes(replace(case, brief=brief)) <= cost_of(case, found) * (1 + 1e-7) + 1e-7


@given(cases(), st.sampled_from(["energy_kcal", "potassium_mg", "water_g"]))
def test_a_goal_that_asks_nothing_changes_nothing(case: Case, key: str) -> None:
    case = without_goals_on(case, key)
    found = closest(case.recipe, case.brief)
    wide = closest(case.recipe, case.brief.with_goal(Goal(nutrient=key, at_most=1e8)))
    np.testing.assert_allclose(wide.exact, found.exact, rtol=1e-7, atol=1e-7)


@given(asked(pers=(Per.SERVING,)))
def test_asking_for_what_the_answer_has_anyway_costs_nothing(drawn: tuple[Case, str, Per]) -> None:
    case, key, per = drawn
    case = without_goals_on(case, key)
    found = closest(case.recipe, case.brief)
    foods = item_foods(case.recipe, case.brief)
    value = level_in(case.recipe, foods, found.exact.tolist(), key, per)
    goal = Goal(nutrient=key, at_least=value * (1 - 1e-6), at_most=value * (1 + 1e-6) + 1e-6)
    again = replace(case, brief=case.brief.with_goal(goal))
    assert found.status is Status.OPTIMAL
    assert changes(again) == close(cost_of(case, found))


@given(cases(), st.randoms(use_true_random=False))
def test_the_order_of_lines_does_not_change_the_cost(case: Case, random: object) -> None:
    lines = list(case.recipe.lines)
    random.shuffle(lines)  # type: ignore[attr-defined]
    turned = replace(case, recipe=replace(case.recipe, lines=tuple(lines)))
    assert changes(turned) == close(changes(case))


@given(cases(), st.randoms(use_true_random=False))
def test_the_order_of_goals_holds_and_swaps_does_not_change_the_cost(
    case: Case, random: object
) -> None:
    brief = case.brief
    parts = [list(brief.goals), list(brief.holds), list(brief.swaps)]
    for part in parts:
        random.shuffle(part)  # type: ignore[attr-defined]
    goals, holds, swaps = (tuple(part) for part in parts)
    turned = replace(case, brief=replace(brief, goals=goals, holds=holds, swaps=swaps))
    assert changes(turned) == close(changes(case))


def times(recipe: Recipe, factor: float) -> Recipe:
    return replace(
        recipe,
        servings=recipe.servings * factor,
        lines=tuple(
            replace(line, grams=float(line.grams or 0.0) * factor) for line in recipe.lines
        ),
    )


@given(cases(floors=FLOORS), st.sampled_from([1.5, 2.0, 3.0, 10.0]))
def test_a_larger_batch_of_the_same_dish_has_the_same_answer(case: Case, factor: float) -> None:
    """As long as no line is under its role's floor, where changes are measured otherwise."""
    holds = tuple(
        replace(
            hold,
            least=None if hold.least is None else hold.least * factor,
            most=None if hold.most is None else hold.most * factor,
        )
        if isinstance(hold, LineHold)
        else hold
        for hold in case.brief.holds
    )
    larger = Case(
        recipe=times(case.recipe, factor),
        brief=replace(case.brief, holds=holds),
        witness=None,
    )
    one, more = (closest(each.recipe, each.brief) for each in (case, larger))
    assert one.status is more.status is Status.OPTIMAL
    assert cost_of(larger, more) == close(cost_of(case, one))
    np.testing.assert_allclose(more.exact, factor * one.exact, rtol=1e-6, atol=1e-5)


@given(cases(most_swaps=0))
def test_starting_from_the_answer_nothing_is_left_to_do(case: Case) -> None:
    """Of lines that went out nothing is left."""
    found = closest(case.recipe, case.brief)
    assert found.status is Status.OPTIMAL
    stays = found.exact > 1e-6
    lines: list[Line] = [
        replace(line, grams=float(mass))
        for line, mass, kept in zip(case.recipe.lines, found.exact, stays, strict=True)
        if kept
    ]
    goals = tuple(goal for goal in case.brief.goals if goal.per.value != "original")
    recipe = replace(case.recipe, lines=tuple(lines))
    done = closest(recipe, replace(case.brief, goals=goals, holds=()))
    np.testing.assert_allclose(done.exact, found.exact[stays], rtol=1e-6, atol=1e-6)

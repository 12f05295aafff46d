"""What gives: every slope is what solving again finds, within the range told and not beyond it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import pytest
from hypothesis import given
from numpy.typing import NDArray

from reformulate import (
    BatchHold,
    Brief,
    Give,
    Goal,
    LineHold,
    Manner,
    Optimiser,
    Per,
    Recipe,
    RoleHold,
    Stopped,
    Swap,
    solve_program,
    what_gives,
)
from tests.optimise.dips import CREAMY, PAIR
from tests.optimise.plain import write_out
from tests.optimise.plain_solvers import least_change
from tests.recipes.plain_sums import FOODS
from tests.strategies import Case, cases, weighed

FloatArray = NDArray[np.float64]
Asked = Callable[[float], Brief]
"""The brief with one limit moved to a value."""

ENERGY = Goal(nutrient="energy_kcal", at_most=140.0)
HELD = (BatchHold(tolerance=0.02),)
YOGURT = Swap(
    food="yogurt-strained-nonfat", stands_in_for=("sour-cream",), largest_share=0.4, least=0.0
)


def gives(recipe: Recipe, brief: Brief) -> tuple[Give, ...]:
    return what_gives(weighed(recipe), brief, FOODS)


def optimum(recipe: Recipe, brief: Brief) -> FloatArray | None:
    """Amounts by an optimiser of their own; None where the musts cannot be kept."""
    exact = Optimiser(weighed(recipe), brief, FOODS).exact(brief)
    return None if exact.relaxed else exact.grams


def lighter(*holds: object, goal: Goal = ENERGY, **more: object) -> Brief:
    return Brief(goals=(goal,), holds=(*HELD, *holds), **more)  # type: ignore[arg-type]


def with_hold(brief: Brief, old: object, new: object) -> Brief:
    return replace(brief, holds=tuple(new if h == old else h for h in brief.holds))  # type: ignore[misc]


@dataclass(frozen=True)
class Bound:
    """A brief in which one limit binds, and the same with that limit elsewhere."""

    words: str
    limit: float
    asked: Asked
    most: float = np.inf
    """Up to here ``asked`` can put the limit: a tolerance cannot be negative, a share above 1."""

    is_open: bool = False
    """Whether what is told holds for all ``asked`` can say."""

    @property
    def brief(self) -> Brief:
        return self.asked(self.limit)


def goal_at(goal: Goal, *holds: object) -> Asked:
    def asked(limit: float) -> Brief:
        moved = replace(goal, **{"at_most" if goal.at_most else "at_least": limit})  # type: ignore[arg-type]
        return lighter(*holds, goal=moved)

    return asked


def line_at_least(grams: float) -> Brief:
    return lighter(LineHold(line="cream-cheese", least=grams))


def line_within(grams: float) -> Brief:
    hold = LineHold(line="mayonnaise", least=grams, most=121.0)
    return lighter(LineHold(line="mayonnaise", tolerance=0.1) if grams == 99.0 else hold)


def batch_within(percent: float) -> Brief:
    return replace(lighter(), holds=(BatchHold(tolerance=1.0 - percent / 100.0),))


def role_within(percent: float) -> Brief:
    return lighter(RoleHold(role="body", tolerance=1.0 - percent / 100.0))


def yogurt_up_to(grams: float) -> Brief:
    return lighter(swaps=(replace(YOGURT, largest_share=grams / 240.0),))


def with_headroom(limit: float) -> Brief:
    return lighter(goal=replace(ENERGY, at_most=limit, headroom=0.05))


BOUNDS = (
    Bound("energy at most 140 kcal per serving", 140.0, goal_at(ENERGY)),
    Bound(
        "energy at most 200 kcal per 100 g",
        200.0,
        goal_at(replace(ENERGY, at_most=200.0, per=Per.HUNDRED_GRAMS)),
    ),
    Bound(
        "energy at most 80 % of the original",
        80.0,
        goal_at(replace(ENERGY, at_most=80.0, per=Per.ORIGINAL)),
    ),
    Bound(
        "protein at least 4.0 g per serving",
        4.0,
        goal_at(Goal(nutrient="protein_g", at_least=4.0)),
    ),
    Bound("energy at most 140 kcal per serving, 5 % headroom", 140.0, with_headroom),
    Bound("cream cheese at least 215 g", 215.0, line_at_least),
    Bound("mayonnaise within ± 10 %", 99.0, line_within, most=121.0, is_open=True),
    Bound("batch size within ± 2 %", 98.0, batch_within, most=100.0),
    Bound("body mass within ± 3 %", 97.0, role_within, most=100.0, is_open=True),
    Bound(
        "Yogurt, strained, nonfat for at most 40 %", 96.0, yogurt_up_to, most=240.0, is_open=True
    ),
)


def give_of(bound: Bound) -> Give:
    found = [give for give in gives(CREAMY, bound.brief) if give.lever.words == bound.words]
    assert len(found) == 1, [give.lever.words for give in gives(CREAMY, bound.brief)]
    assert found[0].lever.limit == pytest.approx(bound.limit)
    return found[0]


def within(bound: Bound, give: Give, share: float) -> float:
    """A value of the limit some way along the range, as far as the brief can say it."""
    return give.low + share * (min(give.high, bound.most) - give.low)


def on_the_line(bound: Bound, give: Give, limit: float) -> FloatArray:
    here = optimum(CREAMY, bound.brief)
    assert here is not None
    moved: FloatArray = here + give.grams * (limit - bound.limit) / give.lever.step
    return moved


@pytest.mark.parametrize("bound", BOUNDS, ids=lambda bound: bound.words)
def test_within_the_range_the_amounts_are_those_of_solving_again(bound: Bound) -> None:
    give = give_of(bound)
    assert give.low < give.high
    assert give.low <= bound.limit <= give.high
    for share in (0.02, 0.19, 0.43, 0.71, 0.98):
        limit = within(bound, give, share)
        again = optimum(CREAMY, bound.asked(limit))
        assert again is not None
        assert on_the_line(bound, give, limit) == pytest.approx(again, abs=1e-4)


@pytest.mark.parametrize("bound", BOUNDS, ids=lambda bound: bound.words)
def test_beyond_the_range_they_are_not(bound: Bound) -> None:
    give = give_of(bound)
    step = abs(give.lever.step)
    ends = 0
    for end, out in ((give.low, -1), (give.high, 1)):
        limit = end + out * 0.05 * step
        if not 0.0 <= limit <= bound.most:
            continue
        again = optimum(CREAMY, bound.asked(limit))
        ends += 1
        if again is not None:
            off = np.abs(on_the_line(bound, give, limit) - again).max()
            assert off > 1e-4
    assert ends or bound.is_open


@pytest.mark.parametrize("bound", BOUNDS, ids=lambda bound: bound.words)
def test_no_other_amounts_are_closer_says_scipy(bound: Bound) -> None:
    give = give_of(bound)
    for share in (0.1, 0.6, 0.9):
        limit = within(bound, give, share)
        problem = write_out(CREAMY, _without_headroom(bound.asked(limit)))
        moved = on_the_line(bound, give, limit)
        assert problem.worst(moved) <= 1e-6
        assert problem.changes(moved) == pytest.approx(least_change(problem), rel=1e-6)


def _without_headroom(brief: Brief) -> Brief:
    goals = tuple(
        replace(goal, at_least=goal.lowest, at_most=goal.highest, headroom=0.0)
        for goal in brief.goals
    )
    return replace(brief, goals=goals)


@pytest.mark.parametrize("bound", BOUNDS, ids=lambda bound: bound.words)
def test_the_quantities_move_as_the_amounts_do(bound: Bound) -> None:
    give = give_of(bound)
    items = Optimiser(weighed(CREAMY), bound.brief, FOODS).exact(bound.brief).model.items
    for column in (1, 2, 3, 12):
        by_hand = sum(
            float(grams) * float(FOODS.values[FOODS.index(item.food.key), column]) / 100
            for grams, item in zip(give.grams, items.ingredients, strict=True)
        )
        assert give.per_serving[column] == pytest.approx(by_hand / CREAMY.servings, abs=1e-9)


@pytest.mark.parametrize(
    ("key", "side", "limit"), [("fat_g", "at_most", 70.0), ("protein_g", "at_least", 12.0)]
)
def test_a_share_of_the_energy_bends_at_once_and_its_slope_is_told(
    key: str, side: str, limit: float
) -> None:
    def asked(value: float) -> Brief:
        return lighter(goal=Goal(nutrient=key, per=Per.ENERGY, **{side: value}))  # type: ignore[arg-type]

    give = next(g for g in gives(CREAMY, asked(limit)) if g.lever.nutrient == key)
    assert give.possible
    assert give.low <= limit <= give.high
    near = [optimum(CREAMY, asked(limit + by)) for by in (-1e-3, 1e-3)]
    assert near[0] is not None
    assert near[1] is not None
    slope = (near[1] - near[0]) / 2e-3 * give.lever.step
    assert give.grams == pytest.approx(slope, rel=1e-2, abs=1e-2)


@pytest.mark.parametrize("limit", [150.0, 140.0, 133.0])
def test_closeness_changes_by_the_dual_price(limit: float) -> None:
    brief = lighter(goal=replace(ENERGY, at_most=limit))
    exact = Optimiser(weighed(CREAMY), brief, FOODS).exact(brief)
    row = next(i for i, row in enumerate(exact.model.rows) if row.nutrient == "energy_kcal")
    duals = solve_program(exact.model.program).row_duals
    # A kcal a serving is so many of the row's own units.
    price = duals[row] * CREAMY.servings / exact.model.row_scale[row]
    give = next(g for g in gives(CREAMY, brief) if g.lever.nutrient == "energy_kcal")
    problem = write_out(CREAMY, brief)
    within = (give.low - limit) * 0.5 / give.lever.step
    change = problem.changes(exact.grams + within * give.grams) - problem.changes(exact.grams)
    assert price < 0.0
    assert change / (within * give.lever.step) == pytest.approx(price, rel=1e-6)


def test_two_lines_and_a_held_batch_worked_by_hand() -> None:
    # 10 kcal less a serving: x g of yogurt in the place of sour cream, x (c - y) = 4 * 10.
    brief = Brief(
        goals=(Goal(nutrient="energy_kcal", at_most=90.0),), holds=(BatchHold(tolerance=0.0),)
    )
    cream, yogurt = (float(FOODS.values[FOODS.index(line.food), 1]) / 100 for line in PAIR.lines)
    x = 40.0 / (cream - yogurt)
    found = gives(PAIR, brief)
    give = found[0]
    assert give.lever.words == "energy at most 90 kcal per serving"
    assert give.lever.step_words == "10 kcal less"
    assert give.grams == pytest.approx([-x, x])
    assert give.per_serving[1] == pytest.approx(-10.0)
    # As far as there is sour cream, and back to where the goal asks nothing any more.
    assert give.low == pytest.approx(300.0 * yogurt / 4, abs=0.01)
    assert give.high == pytest.approx((200.0 * cream + 100.0 * yogurt) / 4, abs=0.01)


def test_a_limit_at_the_end_of_its_reach_cannot_go_further() -> None:
    held = Brief(holds=(BatchHold(tolerance=0.0),), shown=("energy_kcal",))
    reach = Optimiser(weighed(PAIR), held, FOODS).answer(held).reach_of("energy_kcal")
    assert reach is not None
    brief = replace(held, goals=(Goal(nutrient="energy_kcal", at_most=reach.low),))
    give = next(g for g in gives(PAIR, brief) if g.lever.nutrient == "energy_kcal")
    assert not give.possible
    assert np.isnan(give.grams).all()
    assert np.isnan(give.per_serving).all()
    assert give.low == give.high == give.lever.limit


def test_goals_come_before_holds_and_what_does_not_bind_is_not_told() -> None:
    brief = lighter(LineHold(line="cream-cheese", least=215.0), LineHold(line="garlic", most=50.0))
    brief = replace(brief, goals=(*brief.goals, Goal(nutrient="protein_g", at_least=0.1)))
    words = [give.lever.words for give in gives(CREAMY, brief)]
    assert words[0] == "energy at most 140 kcal per serving"
    assert "cream cheese at least 215 g" in words
    assert not any("garlic" in told or "protein" in told for told in words)


def test_nothing_gives_where_the_original_meets_all() -> None:
    assert gives(CREAMY, Brief(holds=HELD)) == ()


def test_nothing_gives_where_the_musts_conflict() -> None:
    assert gives(CREAMY, lighter(goal=Goal(nutrient="protein_g", at_least=50.0))) == ()


@pytest.mark.parametrize("manner", list(Manner))
def test_every_manner_has_its_own_slopes(manner: Manner) -> None:
    brief = lighter(manner=manner)
    give = next(g for g in gives(CREAMY, brief) if g.lever.nutrient == "energy_kcal")
    limit = give.low + 0.37 * (give.high - give.low)
    here = optimum(CREAMY, brief)
    again = optimum(CREAMY, lighter(goal=replace(ENERGY, at_most=limit), manner=manner))
    assert here is not None
    assert again is not None
    moved = here + give.grams * (limit - 140.0) / give.lever.step
    assert moved == pytest.approx(again, abs=1e-3)


def test_the_swaps_in_use_stay_those_in_use() -> None:
    # At 140 kcal the yogurt is in; further down it stays in, and light mayonnaise stays out.
    light = Swap(food="mayonnaise-light", stands_in_for=("mayonnaise",), least=30.0)
    brief = lighter(swaps=(YOGURT, light), max_swaps=1)
    here = optimum(CREAMY, brief)
    assert here is not None
    used = here[len(CREAMY.lines) :] > 1e-6
    assert used.sum() == 1
    for give in gives(CREAMY, brief):
        if give.possible:
            assert np.abs(give.grams[len(CREAMY.lines) :][~used]).max() <= 1e-9


def test_work_given_up_stops_at_once() -> None:
    told: list[float] = []

    def progress(fraction: float) -> bool:
        told.append(fraction)
        return len(told) < 2

    brief = lighter(LineHold(line="cream-cheese", least=215.0))
    with pytest.raises(Stopped):
        what_gives(weighed(CREAMY), brief, FOODS, progress=progress)
    assert len(told) == 2
    assert told[0] == 0.0 < told[1] < 1.0


@given(cases(most_lines=6, most_swaps=2, most_goals=2))
def test_for_any_brief_a_goal_moved_within_its_range_gives_what_is_told(case: Case) -> None:
    here = optimum(case.recipe, case.brief)
    assert here is not None
    for give in gives(case.recipe, case.brief):
        if not give.lever.nutrient or not give.possible:
            continue
        goal = case.brief.goal_on(give.lever.nutrient)
        assert goal is not None
        side = "at_most" if give.lever.step < 0 else "at_least"
        limit = give.low + 0.37 * (give.high - give.low)
        other = goal.at_least if side == "at_most" else goal.at_most
        if other is not None and (limit - other) * give.lever.step > 0:
            continue  # the two sides of a goal cannot pass each other
        moved = replace(goal, **{side: limit})
        goals = tuple(moved if old is goal else old for old in case.brief.goals)
        problem = write_out(case.recipe, replace(case.brief, goals=goals))
        grams = here + give.grams * (limit - give.lever.limit) / give.lever.step
        assert problem.worst(grams) <= 1e-5
        assert problem.changes(grams) == pytest.approx(least_change(problem), rel=1e-5, abs=1e-5)

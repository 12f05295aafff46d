"""Why a brief with rules on swaps cannot be met: the number of swaps is a member like any other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given

from reformulate import (
    SYSTEMS,
    BadInput,
    BatchHold,
    Brief,
    Conflict,
    Goal,
    Line,
    LinearProgram,
    LineHold,
    Outcome,
    Per,
    Recipe,
    Status,
    Swap,
    find_conflict,
    quantity_named,
    solve,
    solve_program,
    weigh_recipe,
)
from reformulate.foods import FoodTable
from reformulate.optimise.items import collect_items
from reformulate.optimise.members import Member, members_of, without
from reformulate.optimise.model import Model, build_model
from tests.optimise.dips import CREAMY, answer
from tests.optimise.plain_rules import SHARES, write_rules
from tests.optimise.rule_cases import swap_cases
from tests.optimise.rule_solvers import least_by_trying_all
from tests.optimise.test_conflict_reason import dips_of
from tests.recipes.plain_sums import FOODS
from tests.strategies import Case, weighed

THREE = dips_of(
    ("cream", 300, 2, 30), ("curd", 100, 20, 1), ("pulp", 20, 1, 0), ("puree", 60, 1, 1)
)
"""Foods of our own invention."""

CREAM = Recipe(title="t", servings=1, lines=(Line(id="cream", food="cream", grams=100.0),))

SWAPS = tuple(
    Swap(food=food, stands_in_for=("cream",), largest_share=0.4, least=10.0)
    for food in ("curd", "pulp", "puree")
)

LEAN = Goal(nutrient="energy_kcal", at_most=150.0)

HELD = (BatchHold(tolerance=0.0),)


def reason(brief: Brief, recipe: Recipe = CREAM, foods: FoodTable = THREE) -> Conflict | None:
    return find_conflict(weigh_recipe(recipe, foods, SYSTEMS["us"]), brief, foods)


def patterns(model: Model, most: int) -> Iterator[tuple[int, ...]]:
    pinned = {j for j, swap in enumerate(model.items.swaps) if swap.pinned}
    for size in range(min(most, len(model.items.swaps)) + 1):
        for used in combinations(range(len(model.items.swaps)), size):
            if pinned <= set(used):
                yield used


def with_these(model: Model, program: LinearProgram, used: tuple[int, ...]) -> LinearProgram:
    """Bounds by which these swaps are used enough, and no others."""
    lower, upper = program.column_lower.copy(), program.column_upper.copy()
    for j, column in enumerate(model.swap_columns):
        at = len(model.items.lines) + j
        lower[column] = model.items.least_used[at] / model.items.scale[at] if j in used else 0.0
        upper[column] = upper[column] if j in used else 0.0
    return replace(program, column_lower=lower, column_upper=upper)


def can_be_kept(model: Model, brief: Brief, left_out: tuple[Member, ...]) -> bool:
    """Ask a cold program for every set of swaps, with nothing of the filter's search."""
    program = without(model, left_out)
    if np.any(program.row_lower > program.row_upper):
        return False
    free = any(member.max_swaps is not None for member in left_out)
    most = len(model.items.swaps) if free or brief.max_swaps is None else brief.max_swaps
    return any(
        solve_program(with_these(model, program, used)).outcome is not Outcome.INFEASIBLE
        for used in patterns(model, most)
    )


@given(swap_cases(harsh=True, most_swaps=4))
def test_what_is_in_conflict_cannot_be_kept_and_without_any_one_of_it_can(case: Case) -> None:
    recipe, brief = case.recipe, case.brief
    found = reason(brief, recipe, FOODS)
    assert (found is None) == (least_by_trying_all(write_rules(recipe, brief)) is not None)
    if found is None:
        return
    model = build_model(collect_items(weighed(recipe), brief, FOODS), brief, recipe)
    others = tuple(m for m in members_of(model, brief) if m not in found.members)
    assert not can_be_kept(model, brief, others)
    for member in found.members:
        assert can_be_kept(model, brief, (*others, member)), member.words


@given(swap_cases(harsh=True, most_swaps=4))
def test_each_way_out_leads_to_an_answer_and_none_is_nearer(case: Case) -> None:
    recipe, brief = case.recipe, case.brief
    found = reason(brief, recipe, FOODS)
    for way in found.ways_out if found else ():
        then = answer(recipe, way.brief)
        assert then.status is Status.OPTIMAL, way.words
        rules = write_rules(recipe, way.brief)
        assert rules.broken(then.exact.tolist()) == []
        if way.member.max_swaps is not None:
            fewer = replace(brief, max_swaps=(way.brief.max_swaps or 0) - 1)
            assert least_by_trying_all(write_rules(recipe, fewer)) is None
        if way.member.goal is None or way.member.goal.per in SHARES:
            continue
        nearer = a_step_nearer(brief, way.brief)
        assert nearer is None or least_by_trying_all(write_rules(recipe, nearer)) is None


def a_step_nearer(old: Brief, new: Brief) -> Brief | None:
    """The way out one unit of its last figure back; None where that is the goal as it was."""
    pairs = enumerate(zip(old.goals, new.goals, strict=True))
    at = next(i for i, (one, other) in pairs if one != other)
    was, now = old.goals[at], new.goals[at]
    decimals = 0 if now.per is Per.ORIGINAL else quantity_named(now.nutrient).decimals
    step = 10.0**-decimals
    if now.at_most != was.at_most:
        assert now.at_most is not None
        assert was.at_most is not None
        if now.at_most - step <= was.at_most:
            return None
        back = replace(now, at_most=now.at_most - step)
    else:
        assert now.at_least is not None
        assert was.at_least is not None
        if now.at_least + step >= was.at_least:
            return None
        back = replace(now, at_least=now.at_least + step)
    return replace(new, goals=(*new.goals[:at], back, *new.goals[at + 1 :]))


def test_too_few_swaps_are_a_reason_and_one_more_is_a_way_out() -> None:
    # 40 g of pulp leave 60 * 3 + 40 * 0.2 = 188 kcal; 40 g of puree beside it 92 kcal.
    brief = Brief(goals=(LEAN,), holds=HELD, swaps=SWAPS, max_swaps=1, swap_band=0.0)
    found = reason(brief)
    assert found is not None
    assert "at most 1 swap" in [member.words for member in found.members]
    assert "energy at most 150 kcal per serving" in [member.words for member in found.members]
    ways = {way.words: way.brief for way in found.ways_out}
    assert {"at most 2 swaps", "energy at most 188 kcal per serving"} <= set(ways)
    for words, changed in ways.items():
        then = solve(CREAM, changed, THREE, SYSTEMS["us"])
        assert then.status is Status.OPTIMAL, words
        assert sum(amount.after > 0 for amount in then.amounts[1:]) <= (changed.max_swaps or 0)


def test_no_swap_at_all_is_said_so() -> None:
    brief = Brief(goals=(LEAN,), holds=HELD, swaps=SWAPS, max_swaps=0, swap_band=0.0)
    found = reason(brief)
    assert found is not None
    assert "no swap" in [member.words for member in found.members]
    assert "at most 2 swaps" in [way.words for way in found.ways_out]
    assert "energy at most 300 kcal per serving" in [way.words for way in found.ways_out]


def test_where_more_swaps_do_not_help_their_number_is_no_part_of_the_reason() -> None:
    # 40 g of pulp and 40 g of puree are 20 * 3 + 8 + 24 = 92 kcal; 100 g of swaps 40 less.
    lean = replace(LEAN, at_most=30.0)
    brief = Brief(goals=(lean,), holds=HELD, swaps=SWAPS, max_swaps=1, swap_band=0.0)
    found = reason(brief)
    assert found is not None
    assert all(member.max_swaps is None for member in found.members)


def test_a_least_amount_alone_can_be_why_and_the_way_out_counts_it() -> None:
    # Between 296 and 299 kcal there is room for less than 10 g of any swap only.
    goal = Goal(nutrient="energy_kcal", at_least=296.0, at_most=299.0)
    brief = Brief(goals=(goal,), holds=HELD, swaps=SWAPS, swap_band=0.0)
    assert answer_of(replace(brief, swaps=tuple(replace(s, least=0.0) for s in SWAPS))) == "optimal"
    found = reason(brief)
    assert found is not None
    # 10 g of curd: 90 * 3 + 10 = 280; none of any: 300.
    ways = [way.words for way in found.ways_out]
    assert "energy at least 280 kcal per serving" in ways
    assert "energy at most 300 kcal per serving" in ways
    for way in found.ways_out:
        assert answer_of(way.brief) == "optimal"


def answer_of(brief: Brief) -> str:
    return solve(CREAM, brief, THREE, SYSTEMS["us"]).status.value


def test_a_line_that_a_least_amount_leaves_no_room_for() -> None:
    # The swap is pinned and comes in by 60 g at least: sour cream keeps 180 g at most.
    swap = Swap(food="yogurt-nonfat", stands_in_for=("sour-cream",), least=60.0, pinned=True)
    locks = tuple(LineHold(line=line.id, tolerance=0.0) for line in CREAMY.lines[1:])
    hold = LineHold(line="sour-cream", least=200.0)
    brief = Brief(holds=(*locks, hold), swaps=(swap,), swap_band=0.0)
    found = find_conflict(weighed(CREAMY), brief, FOODS)
    assert found is not None
    assert "sour cream at least 180 g" in [way.words for way in found.ways_out]
    for way in found.ways_out:
        assert answer(CREAMY, way.brief).status is Status.OPTIMAL


@pytest.mark.parametrize("most", [0, 1])
def test_more_pins_than_swaps_are_refused(most: int) -> None:
    pinned = tuple(replace(swap, pinned=True) for swap in SWAPS[:2])
    with pytest.raises(BadInput, match="2 of which are pinned"):
        reason(Brief(swaps=pinned, max_swaps=most))

"""Wishes are met by rank, as far as the musts let them: the least shortfall of each, then closeness."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings

from reformulate import (
    Manner,
    Status,
)
from tests.optimise.dips import answer, closest
from tests.optimise.plain import goal_row_count, violation
from tests.optimise.plain_rules import inside, write_rules
from tests.optimise.plain_solvers import least_violation
from tests.optimise.rule_cases import in_amounts, wish_and_swap_cases, wish_cases
from tests.optimise.rule_solvers import preemptive
from tests.recipes.plain_sums import item_foods, level_in
from tests.strategies import Case

FEW = settings(max_examples=max(5, settings().max_examples // 2))


def dust(value: float) -> float:
    """How far two solvers may be apart in what they reach."""
    return 1e-5 * (1 + abs(value))


@given(wish_cases())
def test_wishes_are_met_rank_by_rank_as_a_sequence_of_plain_programs_says(case: Case) -> None:
    found = answer(case.recipe, case.brief)
    rules = write_rules(case.recipe, case.brief)
    expected = preemptive(rules)
    assert expected is not None
    assert found.status is Status.OPTIMAL
    assert found.certificate.holds
    reached = [*rules.shortfalls(found.exact.tolist()), rules.musts.changes(found.exact)]
    for value, (low, high) in zip(reached, expected, strict=True):
        assert low - dust(low) <= value <= high + dust(high)


@given(wish_and_swap_cases())
@FEW
def test_of_all_choices_of_swaps_the_one_that_serves_the_first_rank_best_is_made(
    case: Case,
) -> None:
    brief = case.brief
    found = answer(case.recipe, brief)
    rules = write_rules(case.recipe, brief)
    tried = [preemptive(replace(rules, musts=rules.under(used))) for used in rules.patterns()]
    can = [costs for costs in tried if costs is not None]
    assert (found.status is Status.OPTIMAL) == bool(can)
    if not can:
        return
    assert rules.broken(found.exact.tolist()) == []
    reached = [*rules.shortfalls(found.exact.tolist()), rules.musts.changes(found.exact)]
    for i, value in enumerate(reached):
        least = min(costs[i][1] for costs in can)
        assert value <= least + dust(least)
        assert value >= min(costs[i][0] for costs in can) - dust(least)
        can = [costs for costs in can if costs[i][1] <= least + 1e-9]


@given(wish_cases())
@FEW
def test_wishes_come_before_the_manner(case: Case) -> None:
    expected = preemptive(write_rules(case.recipe, case.brief))
    assert expected is not None
    for manner in Manner:
        brief = replace(case.brief, manner=manner)
        found = closest(case.recipe, brief)
        missed = write_rules(case.recipe, brief).shortfalls(found.exact.tolist())
        for value, (low, high) in zip(missed, expected, strict=False):
            assert low - dust(low) <= value <= high + dust(high)
        assert found.certificate.holds


@given(wish_cases())
def test_no_must_gives_for_a_wish(case: Case) -> None:
    found = closest(case.recipe, case.brief)
    assert found.status is Status.OPTIMAL
    foods = item_foods(case.recipe, case.brief)
    for goal in case.brief.goals:
        if goal.rank:
            continue
        for grams in (found.exact, found.grams):
            value = level_in(case.recipe, foods, grams.tolist(), goal.nutrient, goal.per)
            assert goal.at_least is None or value >= goal.at_least * (1 - 1e-6)
            assert goal.at_most is None or value <= goal.at_most * (1 + 1e-6)
    assert write_rules(case.recipe, case.brief).worst(found.exact.tolist()) <= 1e-7


@given(wish_cases(harsh=True))
def test_where_musts_conflict_a_wish_makes_them_give_no_more(case: Case) -> None:
    brief = in_amounts(case.brief)
    found = closest(case.recipe, brief)
    rules = write_rules(case.recipe, brief)
    musts = replace(brief, goals=tuple(goal for goal in brief.goals if not goal.rank))
    goals = goal_row_count(musts)
    least = least_violation(rules.musts, goals)
    assert least is not None
    # Limits that gave way until they touch are kept a cushion wider, up to a millionth.
    assert violation(rules.musts, found.exact, goals) == pytest.approx(least, rel=1e-5, abs=1e-5)
    assert found.certificate.holds


@given(wish_cases())
def test_a_wish_that_the_optimum_meets_is_met_by_the_amounts_shown(case: Case) -> None:
    found = closest(case.recipe, case.brief)
    foods = item_foods(case.recipe, case.brief)
    for result in found.goals:
        goal = inside(result.goal)
        value = level_in(case.recipe, foods, found.exact.tolist(), goal.nutrient, goal.per)
        if (goal.at_least is None or value >= goal.at_least * (1 - 1e-8)) and (
            goal.at_most is None or value <= goal.at_most * (1 + 1e-8)
        ):
            assert result.met, f"{goal}: {value} before rounding, {result.level} after"

"""A swap is left out or used enough, no more swaps are used than allowed, and no choice is better."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reformulate import Manner, Optimiser, Status
from tests.optimise.dips import closest
from tests.optimise.plain import goal_row_count, violation
from tests.optimise.plain_rules import write_rules
from tests.optimise.plain_solvers import least_violation
from tests.optimise.rule_cases import in_amounts, swap_cases
from tests.optimise.rule_solvers import (
    gentlest,
    least_by_cbc,
    least_by_milp,
    least_by_trying_all,
)
from tests.optimise.test_gentlest import largest
from tests.optimise.test_history import assert_same, moved
from tests.recipes.plain_sums import FOODS
from tests.strategies import Case, weighed

FEW = settings(max_examples=max(5, settings().max_examples // 2))
"""For what starts a process of its own, or tries every set of swaps several times."""


def close(value: float) -> object:
    return pytest.approx(value, rel=1e-6, abs=1e-6)


@given(swap_cases() | swap_cases(harsh=True))
def test_a_swap_is_left_out_or_used_enough_and_no_more_are_used_than_allowed(case: Case) -> None:
    found = closest(case.recipe, case.brief)
    rules = write_rules(case.recipe, case.brief)
    assert rules.broken(found.exact.tolist()) == []
    assert rules.broken(found.grams.tolist()) == []
    assert found.certificate.holds


@given(swap_cases())
def test_no_choice_of_swaps_is_closer_says_scipy(case: Case) -> None:
    found = closest(case.recipe, case.brief)
    rules = write_rules(case.recipe, case.brief)
    least = least_by_milp(rules)
    assert (found.status is Status.OPTIMAL) == (least is not None)
    if least is not None:
        assert rules.worst(found.exact.tolist()) <= 1e-7
        assert rules.musts.changes(found.exact) == close(least)


@given(swap_cases())
@FEW
def test_no_choice_of_swaps_is_closer_says_cbc(case: Case) -> None:
    found = closest(case.recipe, case.brief)
    rules = write_rules(case.recipe, case.brief)
    least = least_by_cbc(rules)
    assert (found.status is Status.OPTIMAL) == (least is not None)
    if least is not None:
        assert rules.musts.changes(found.exact) == close(least)


@given(swap_cases() | swap_cases(harsh=True))
@FEW
def test_no_choice_of_swaps_is_closer_by_trying_all(case: Case) -> None:
    found = closest(case.recipe, case.brief)
    rules = write_rules(case.recipe, case.brief)
    least = least_by_trying_all(rules)
    assert (found.status is Status.OPTIMAL) == (least is not None)
    if least is not None:
        assert rules.musts.changes(found.exact) == close(least)


@given(swap_cases(harsh=True, most_swaps=3))
@FEW
def test_in_a_conflict_no_choice_of_swaps_comes_nearer(case: Case) -> None:
    brief = in_amounts(case.brief)
    found = closest(case.recipe, brief)
    rules, goals = write_rules(case.recipe, brief), goal_row_count(brief)
    tried = [least_violation(rules.under(used), goals) for used in rules.patterns()]
    can = [missed for missed in tried if missed is not None]
    if not can:  # the holds conflict among themselves
        assert found.holds
        return
    # Limits that gave way until they touch are kept a cushion wider, up to a millionth.
    assert violation(rules.musts, found.exact, goals) == pytest.approx(min(can), rel=1e-5, abs=1e-5)


@given(swap_cases(most_swaps=3))
@FEW
def test_no_choice_of_swaps_is_gentler(case: Case) -> None:
    brief = replace(case.brief, manner=Manner.GENTLEST)
    found = closest(case.recipe, brief)
    rules = write_rules(case.recipe, brief)
    tried = [gentlest(rules.under(used)) for used in rules.patterns()]
    can = [costs for costs in tried if costs is not None]
    assert (found.status is Status.OPTIMAL) == bool(can)
    if not can:
        return
    least = min(first for (_, first), _ in can)
    assert rules.broken(found.exact.tolist()) == []
    assert largest(rules.musts, found.exact.tolist()) == pytest.approx(least, rel=1e-5, abs=1e-5)
    then = min(most for (_, first), (_, most) in can if first <= least + 1e-9)
    assert rules.musts.changes(found.exact) <= then + 1e-5 * (1 + then)


@given(
    swap_cases() | swap_cases(harsh=True),
    st.lists(st.sampled_from([0.2, 0.6, 0.9, 1.0, 1.3]), min_size=1, max_size=3),
)
def test_what_was_asked_before_does_not_change_the_choice(case: Case, before: list[float]) -> None:
    batch = weighed(case.recipe)
    optimiser = Optimiser(batch, moved(case.brief, 0.7), FOODS)
    for factor in before:
        optimiser.answer(moved(case.brief, factor))
    assert_same(
        optimiser.answer(case.brief), Optimiser(batch, case.brief, FOODS).answer(case.brief)
    )

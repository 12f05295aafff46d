"""Headroom: amounts keep inside the limits, and all that is worked out from a limit counts it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import (
    BadInput,
    BatchHold,
    Brief,
    Goal,
    LineHold,
    Optimiser,
    Per,
    Status,
    find_conflict,
    goal_words,
    state_sentence,
)
from tests.optimise.dips import PAIR, answer, closest
from tests.optimise.plain_rules import write_rules
from tests.optimise.plain_solvers import least_change
from tests.optimise.rule_cases import with_headroom
from tests.recipes.plain_sums import FOODS, item_foods, level_in
from tests.strategies import Case, cases, harsh_cases, weighed

ENERGY = "energy_kcal"
HELD = (BatchHold(tolerance=0.0),)
"""300 g of two creams, 4 servings: 44.25 kcal is the least (59 kcal per 100 g, NDB 01256, SR28)."""


@given(cases().flatmap(with_headroom))
def test_the_amounts_shown_keep_inside_the_limits_by_the_headroom(case: Case) -> None:
    found = closest(case.recipe, case.brief)
    assert found.status is Status.OPTIMAL
    foods = item_foods(case.recipe, case.brief)
    for goal in case.brief.goals:
        value = level_in(case.recipe, foods, found.grams.tolist(), goal.nutrient, goal.per)
        room = goal.headroom
        assert goal.at_least is None or value >= goal.at_least * (1 + room) * (1 - 1e-6) - 1e-6
        assert goal.at_most is None or value <= goal.at_most * (1 - room) * (1 + 1e-6) + 1e-6


@given(cases(most_lines=8, most_swaps=3).flatmap(with_headroom))
def test_the_answer_is_the_closest_inside_the_headroom(case: Case) -> None:
    found = closest(case.recipe, case.brief)
    rules = write_rules(case.recipe, case.brief)
    least = least_change(rules.musts)
    assert least is not None
    assert rules.worst(found.exact.tolist()) <= 1e-7
    assert rules.musts.changes(found.exact) == pytest.approx(least, rel=1e-6, abs=1e-6)


@given(harsh_cases().flatmap(with_headroom), st.sampled_from([0.0, 0.03]))
def test_headroom_is_a_tighter_limit_and_nothing_else(case: Case, more: float) -> None:
    """Also where goals give way, and where a warm optimiser was asked with other headroom before."""
    tight = tuple(
        replace(goal, at_least=goal.lowest, at_most=goal.highest, headroom=0.0)
        for goal in case.brief.goals
    )
    plain = answer(case.recipe, replace(case.brief, goals=tight))
    before = tuple(replace(goal, headroom=goal.headroom * more) for goal in case.brief.goals)
    warm = Optimiser(weighed(case.recipe), replace(case.brief, goals=before), FOODS)
    warm.answer(replace(case.brief, goals=before))
    for found in (answer(case.recipe, case.brief), warm.answer(case.brief)):
        assert found.status is plain.status
        assert found.grams.tolist() == pytest.approx(plain.grams.tolist(), abs=1e-5)
        for one, other in zip(found.goals, plain.goals, strict=True):
            assert one.met == other.met
            assert one.level == pytest.approx(other.level, abs=1e-5)
            assert one.misses_by == pytest.approx(other.misses_by, abs=1e-5)
        for end, other_end in zip(found.reach, plain.reach, strict=True):
            assert end.low == pytest.approx(other_end.low, rel=1e-6, abs=1e-6)


@given(harsh_cases(most_lines=8, most_swaps=3).flatmap(with_headroom))
def test_each_way_out_counts_the_headroom(case: Case) -> None:
    found = find_conflict(weighed(case.recipe), case.brief, FOODS)
    for way in found.ways_out if found else ():
        assert [goal.headroom for goal in way.brief.goals] == [
            goal.headroom for goal in case.brief.goals
        ]
        then = closest(case.recipe, way.brief)
        assert then.status is Status.OPTIMAL, way.words
        assert least_change(write_rules(case.recipe, way.brief).musts) is not None


def test_a_goal_that_is_met_but_not_by_its_headroom_is_told_so() -> None:
    goal = Goal(nutrient=ENERGY, at_most=45.0, headroom=0.05)
    assert answer(PAIR, Brief(goals=(replace(goal, headroom=0.0),), holds=HELD)).goals[0].met
    found = answer(PAIR, Brief(goals=(goal,), holds=HELD))
    # 45 less 5 % is 42.75, and 44.25 is the least.
    assert found.status is Status.CONFLICT
    assert found.grams.tolist() == [0.0, 300.0]
    assert found.goals[0].misses_by == pytest.approx(1.5)
    assert state_sentence(found).startswith("Out of reach: energy stays 2 kcal above 42.75 kcal")


def test_the_way_out_of_too_much_headroom_keeps_it() -> None:
    goal = Goal(nutrient=ENERGY, at_most=45.0, headroom=0.05)
    brief = Brief(goals=(goal,), holds=HELD)
    found = find_conflict(weighed(PAIR), brief, FOODS)
    assert found is not None
    assert [member.words for member in found.members] == [
        "batch size within ± 0 %",
        "energy at most 45 kcal per serving, 5 % headroom",
    ]
    # 44.25 / 0.95 = 46.58; or a batch of 42.75 * 4 / 0.59 = 289.83 g, 3.39 % less.
    assert [way.words for way in found.ways_out] == [
        "batch size within ± 4 %",
        "energy at most 47 kcal per serving, 5 % headroom",
    ]
    for way in found.ways_out:
        assert answer(PAIR, way.brief).status is Status.OPTIMAL


@pytest.mark.parametrize("per", [Per.SERVING, Per.HUNDRED_GRAMS])
def test_the_way_out_of_a_floor_keeps_its_headroom(per: Per) -> None:
    # All sour cream has 19.35 g of fat per 100 g (NDB 01056, SR28), 14.5125 g a serving of 75 g.
    most = 14.5125 if per is Per.SERVING else 19.35
    goal = Goal(nutrient="fat_g", at_least=most * 0.95, per=per, headroom=0.1)
    found = find_conflict(weighed(PAIR), Brief(goals=(goal,), holds=HELD), FOODS)
    assert found is not None
    changed = found.ways_out[-1].brief.goals[0]
    assert changed.headroom == 0.1
    assert changed.at_least == pytest.approx(np.floor(most / 1.1 * 10) / 10)
    assert answer(PAIR, found.ways_out[-1].brief).status is Status.OPTIMAL


def test_two_goals_on_one_nutrient_that_fit_only_without_headroom_conflict() -> None:
    lean = Goal(nutrient=ENERGY, at_most=100.0, headroom=0.05)
    rich = Goal(nutrient=ENERGY, at_least=85.0, per=Per.ORIGINAL)  # of 113.75 kcal: 96.69
    apart = Brief(goals=(replace(lean, headroom=0.0), rich), holds=HELD)
    assert answer(PAIR, apart).status is Status.OPTIMAL
    brief = Brief(goals=(lean, rich), holds=HELD)
    assert answer(PAIR, brief).status is Status.CONFLICT
    found = find_conflict(weighed(PAIR), brief, FOODS)
    assert found is not None
    assert [member.words for member in found.members] == [
        "energy at most 100 kcal per serving, 5 % headroom",
        "energy at least 85 % of the original",
    ]
    # 96.6875 / 0.95 = 101.8; 95 / 113.75 = 83.5 %.
    assert [way.words for way in found.ways_out] == [
        "energy at most 102 kcal per serving, 5 % headroom",
        "energy at least 83 % of the original",
    ]
    for way in found.ways_out:
        assert answer(PAIR, way.brief).status is Status.OPTIMAL


def test_headroom_that_leaves_no_room_between_a_goals_own_limits_is_refused() -> None:
    goal = Goal(nutrient=ENERGY, at_least=90.0, at_most=100.0, headroom=0.1)
    with pytest.raises(BadInput, match="its headroom leaves no room between its limits"):
        answer(PAIR, Brief(goals=(goal,), holds=HELD))
    # 90 and 5 % and 100 less 5 % leave half a kcal.
    assert answer(PAIR, Brief(goals=(replace(goal, headroom=0.05),), holds=HELD)).goals[
        0
    ].level == pytest.approx(94.75, abs=0.26)


def test_the_limits_of_the_optimum_count_the_headroom() -> None:
    goal = Goal(nutrient=ENERGY, at_least=50.0, at_most=100.0, headroom=0.1)
    brief = Brief(goals=(goal,), holds=HELD, shown=(ENERGY,))
    exact = Optimiser(weighed(PAIR), brief, FOODS).exact(brief)
    low, high = (side * exact.model.row_scale for side in exact.limits)
    assert (low[0], high[0]) == (pytest.approx(55.0 * 4), pytest.approx(90.0 * 4))
    assert float(exact.grams @ exact.model.rows[0].coefficients) == pytest.approx(90.0 * 4)


def test_a_wish_keeps_its_headroom_as_far_as_it_can() -> None:
    goal = Goal(nutrient=ENERGY, at_most=100.0, headroom=0.1, rank=1)
    met = answer(PAIR, Brief(goals=(goal,), holds=HELD))
    assert met.goals[0].met
    assert met.goals[0].level == pytest.approx(90.0, abs=0.36)
    assert met.goals[0].level <= 90.0 + 1e-6
    # With 180 g of sour cream at least, (180 * 1.98 + 120 * 0.59) / 4 = 106.8 is the least.
    held = (*HELD, LineHold(line="sour-cream", least=180.0))
    out = answer(PAIR, Brief(goals=(goal,), holds=held))
    assert out.status is Status.OPTIMAL
    assert out.goals[0].misses_by == pytest.approx(106.8 - 90.0, abs=1e-4)


def test_headroom_is_said_with_the_goal() -> None:
    goal = Goal(nutrient=ENERGY, at_most=100.0, headroom=0.025)
    assert goal_words(goal) == "energy at most 100 kcal per serving, 2.5 % headroom"

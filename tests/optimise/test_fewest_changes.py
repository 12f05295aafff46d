"""The answer is the closest: two plain formulations and two other solvers find none closer."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings

from reformulate import (
    BatchHold,
    Brief,
    Goal,
    LineHold,
    Optimiser,
    SolverStopped,
    Status,
    linear_program,
    second_opinion,
    solve_program,
)
from reformulate.optimise.items import ROLE_FLOOR, collect_items
from reformulate.optimise.model import build_model
from tests.optimise.dips import PAIR, closest
from tests.optimise.plain import FLOORS, goal_row_count, write_out
from tests.optimise.plain_solvers import least_change, least_change_by_cbc
from tests.recipes.plain_sums import FOODS
from tests.strategies import Case, cases, harsh_cases, weighed

CBC = settings(max_examples=max(5, settings().max_examples // 2))
"""CBC starts a process of its own for every program."""


def close(value: float) -> object:
    return pytest.approx(value, rel=1e-6, abs=1e-6)


def test_changes_are_measured_against_the_floors_the_roles_have() -> None:
    assert dict(ROLE_FLOOR) == FLOORS


@given(cases())
def test_no_amounts_are_closer_says_scipy(case: Case) -> None:
    found = closest(case.recipe, case.brief)
    problem = write_out(case.recipe, case.brief)
    assert case.witness is not None
    assert problem.worst(case.witness) <= 1e-9
    assert found.status is Status.OPTIMAL
    assert problem.worst(found.exact) <= 1e-7
    least = least_change(problem)
    assert least is not None
    assert problem.changes(found.exact) == close(least)
    assert least <= problem.changes(case.witness) + 1e-9


@given(cases(most_lines=8, most_swaps=4))
@CBC
def test_no_amounts_are_closer_says_cbc(case: Case) -> None:
    found = closest(case.recipe, case.brief)
    problem = write_out(case.recipe, case.brief)
    least = least_change_by_cbc(problem)
    assert least is not None
    assert problem.changes(found.exact) == close(least)


@given(cases(most_lines=8, most_swaps=4))
@CBC
def test_the_program_itself_has_no_cheaper_answer_says_cbc(case: Case) -> None:
    batch = weighed(case.recipe)
    model = build_model(collect_items(batch, case.brief, FOODS), case.brief, case.recipe)
    found = closest(case.recipe, case.brief)
    problem = write_out(case.recipe, case.brief)
    assert problem.changes(found.exact) == close(second_opinion(model.program))
    assert solve_program(model.program).objective == close(problem.changes(found.exact))


@given(harsh_cases())
def test_a_conflict_is_one_for_scipy_too(case: Case) -> None:
    found = closest(case.recipe, case.brief)
    problem = write_out(case.recipe, case.brief)
    least = least_change(problem)
    assert (found.status is Status.OPTIMAL) == (least is not None)
    if least is not None:
        assert problem.changes(found.exact) == close(least)
    else:
        goals = goal_row_count(case.brief)
        assert any(
            row.low - 1e-9 > (value := float(np.dot(row.coefficients, found.grams)))
            or value > row.high + 1e-9
            for row in problem.rows[:goals]
        )


@given(cases())
def test_the_amounts_shown_are_near_the_closest(case: Case) -> None:
    """At most a few steps of the scale a line, as the rows that bind ask."""
    found = closest(case.recipe, case.brief)
    for exact, shown in zip(found.exact, found.grams, strict=True):
        step = 1.0 if exact >= 20 else 0.1 if exact >= 2 else 0.01
        assert abs(shown - exact) <= 13 * step


def test_two_lines_by_hand() -> None:
    # 300 g held exactly, 4 servings; 198 and 59 kcal per 100 g (NDB 01056 and 01256, SR28):
    # 1.98 a + 0.59 (300 - a) = 320 gives a = 143 / 1.39, and all other answers have no other a.
    found = closest(
        PAIR,
        Brief(
            goals=(Goal(nutrient="energy_kcal", at_most=80.0),),
            holds=(BatchHold(tolerance=0.0),),
        ),
    )
    a = 143 / 1.39
    assert found.exact.tolist() == pytest.approx([a, 300 - a], abs=1e-9)
    assert found.grams.tolist() == [102.0, 198.0]  # rounded so that the goal still holds


def test_a_fifth_less_of_a_little_weighs_as_much_as_a_fifth_less_of_a_lot() -> None:
    # Both lines bring the same energy a gram. Without a batch to keep, 80 g less of either line
    # meets the goal: 80 of 400 g is the smaller relative change.
    same = Brief(goals=(Goal(nutrient="energy_kcal", at_most=420 * 1.98 / 4),))
    recipe = PAIR.with_line(
        type(PAIR.lines[1])(id="yogurt-strained-nonfat", food="sour-cream", grams=100.0)
    ).with_line(type(PAIR.lines[0])(id="sour-cream", food="sour-cream", grams=400.0))
    assert closest(recipe, same).exact.tolist() == pytest.approx([320.0, 100.0])


def test_a_locked_dish_answers_with_itself_or_a_conflict() -> None:
    locks = tuple(LineHold(line=line.id, tolerance=0.0) for line in PAIR.lines)
    easy = Goal(nutrient="energy_kcal", at_most=500.0)
    hard = Goal(nutrient="energy_kcal", at_most=50.0)
    for goal, status in ((easy, Status.OPTIMAL), (hard, Status.CONFLICT)):
        found = closest(PAIR, Brief(goals=(goal,), holds=locks))
        assert found.status is status
        assert found.grams.tolist() == [200.0, 100.0]


def test_the_second_solver_says_so_where_there_is_no_answer() -> None:
    with pytest.raises(SolverStopped, match="The second solver says: Infeasible"):
        second_opinion(linear_program([1.0], [[1.0]], 2.0, 3.0, column_upper=1.0))


def test_the_second_solver_reads_equal_one_sided_and_free_rows() -> None:
    program = linear_program(
        [1.0, 2.0, 0.5],
        [[1.0, 1.0, 1.0], [1.0, -1.0, 0.0], [0.0, 1.0, 1.0]],
        [4.0, -np.inf, 1.5],
        [4.0, 1.0, np.inf],
        column_lower=[0.0, 0.0, -1.0],
        column_upper=[np.inf, np.inf, 2.0],
    )
    # z at its most, 2; then x + y = 2 with x - y <= 1: x = 1.5, y = 0.5.
    assert second_opinion(program) == pytest.approx(1.5 + 1.0 + 1.0)
    assert solve_program(program).objective == pytest.approx(3.5)


def test_a_brief_that_does_not_fit_is_refused() -> None:
    held = Brief(holds=(BatchHold(),))
    optimiser = Optimiser(weighed(PAIR), held, FOODS)
    with pytest.raises(ValueError, match="differs in more than its goals' limits"):
        optimiser.answer(Brief())

"""Gentlest change: the least largest relative change, then the least sum."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from scipy.optimize import linprog

from reformulate import BatchHold, Brief, Goal, Manner, Optimiser, Status
from tests.optimise.dips import CREAMY, PAIR, answer, closest
from tests.optimise.plain import PlainProblem, write_out
from tests.strategies import FOODS, Case, cases, harsh_cases, weighed


def largest(problem: PlainProblem, grams: list[float]) -> float:
    """Largest relative change of a line or swap."""
    return max(
        abs(now - before) / unit
        for now, before, unit in zip(grams, problem.start, problem.unit, strict=True)
    )


def least_largest(problem: PlainProblem) -> float:
    """The same made least by linprog, written in grams: minimise d with -d <= (x - x0) / s <= d."""
    n = len(problem.start)
    rows, limits = [], []
    for row in problem.rows:
        for sign, limit in ((1.0, row.high), (-1.0, -row.low)):
            if np.isfinite(limit):
                size = max(abs(c) for c in row.coefficients) or 1.0
                rows.append([sign * c / size for c in row.coefficients] + [0.0])
                limits.append(limit / size)
    for j in range(n):
        for sign in (1.0, -1.0):
            row = [0.0] * (n + 1)
            row[j], row[n] = sign / problem.unit[j], -1.0
            rows.append(row)
            limits.append(sign * problem.start[j] / problem.unit[j])
    found = linprog(
        [0.0] * n + [1.0],
        A_ub=np.array(rows),
        b_ub=np.array(limits),
        bounds=[*problem.bounds, (0, None)],
    )
    assert found.success
    return float(found.fun)


@given(cases())
def test_the_largest_change_is_what_a_plain_program_finds(case: Case) -> None:
    brief = replace(case.brief, manner=Manner.GENTLEST)
    found = closest(case.recipe, brief)
    problem = write_out(case.recipe, brief)
    assert found.certificate.holds
    assert largest(problem, found.exact.tolist()) == pytest.approx(
        least_largest(problem), rel=1e-5, abs=1e-5
    )


@given(harsh_cases())
def test_gentlest_is_never_rougher_and_never_misses_more_than_fewest(case: Case) -> None:
    few = answer(case.recipe, case.brief)
    gentle = answer(case.recipe, replace(case.brief, manner=Manner.GENTLEST))
    problem = write_out(case.recipe, case.brief)
    assert gentle.status is few.status
    assert gentle.certificate.holds
    assert largest(problem, gentle.exact.tolist()) <= largest(problem, few.exact.tolist()) + 1e-5
    assert problem.changes(few.exact) <= problem.changes(gentle.exact) + 1e-5
    for one, other in zip(few.reach, gentle.reach, strict=True):
        assert (one.nutrient, one.low) == (other.nutrient, pytest.approx(other.low, abs=1e-5))


def test_by_hand() -> None:
    # 300 g of two creams (198 and 59 kcal per 100 g: NDB 01056 and 01256, SR28), 4 servings, batch
    # held: every change is one exchange, so both manners agree: s + y = 300, 1.98 s + 0.59 y = 360.
    goal = Goal(nutrient="energy_kcal", at_most=90.0)
    brief = Brief(goals=(goal,), holds=(BatchHold(tolerance=0.0),), manner=Manner.GENTLEST)
    assert answer(PAIR, brief).exact.tolist() == pytest.approx([183 / 1.39, 300 - 183 / 1.39])


def test_a_cap_of_one_answer_does_not_bind_the_next() -> None:
    brief = Brief(holds=(BatchHold(),), manner=Manner.GENTLEST)
    batch = weighed(CREAMY)
    warm = Optimiser(batch, brief.with_goal(Goal(nutrient="energy_kcal", at_most=150.0)), FOODS)
    for limit in (230.0, 120.0, 200.0, 100.0):
        asked = brief.with_goal(Goal(nutrient="energy_kcal", at_most=limit))
        cold = answer(CREAMY, asked)
        assert warm.answer(asked).exact == pytest.approx(cold.exact, abs=1e-5)
        assert cold.status is Status.OPTIMAL

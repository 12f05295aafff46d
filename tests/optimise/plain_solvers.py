"""Other solvers' answers to a brief written out plainly: SciPy, and CBC through PuLP."""

from __future__ import annotations

import warnings

import numpy as np
import pulp
from numpy.typing import NDArray
from scipy.optimize import linprog

from tests.optimise.plain import PlainProblem

FloatArray = NDArray[np.float64]

TIGHT = {"primal_feasibility_tolerance": 1e-9, "dual_feasibility_tolerance": 1e-9}


def _inequalities(problem: PlainProblem, extra: int) -> tuple[FloatArray, FloatArray]:
    """Rows as A z <= b over grams in each item's unit, each divided by its largest entry."""
    left, right = [], []
    for row in problem.rows:
        entries = np.array(row.coefficients) * problem.unit
        largest = np.abs(entries).max() or 1.0
        for sign, limit in ((1, row.high), (-1, row.low)):
            if np.isfinite(limit):
                left.append(np.concatenate([sign * entries / largest, np.zeros(extra)]))
                right.append(sign * limit / largest)
    width = len(problem.unit) + extra
    return np.array(left).reshape(-1, width), np.array(right)


def _bounds(problem: PlainProblem) -> list[tuple[float, float]]:
    return [(lo / u, hi / u) for (lo, hi), u in zip(problem.bounds, problem.unit, strict=True)]


def least_change(problem: PlainProblem) -> float | None:
    """The least sum of relative changes by SciPy; None where nothing is feasible."""
    n, lines = len(problem.unit), problem.lines
    left, right = _inequalities(problem, lines)
    for i in range(lines):
        for sign in (1, -1):
            row = np.zeros(n + lines)
            row[i], row[n + i] = sign, -1
            left = np.vstack([left, row])
            right = np.append(right, sign * problem.start[i] / problem.unit[i])
    cost = np.concatenate([np.zeros(lines), np.ones(n - lines), np.ones(lines)])
    found = linprog(
        cost,
        A_ub=left,
        b_ub=right,
        bounds=[*_bounds(problem), *[(0, None)] * lines],
        options=TIGHT,
    )
    assert found.status in (0, 2), found.message
    return float(found.fun) if found.status == 0 else None


def least_change_by_cbc(problem: PlainProblem) -> float | None:
    """The same written as sentences in PuLP and solved by CBC."""
    lp = pulp.LpProblem("plain", pulp.LpMinimize)
    amounts = [
        lp.add_variable(f"z{i}", low, None if high == np.inf else high)
        for i, (low, high) in enumerate(_bounds(problem))
    ]
    off = [lp.add_variable(f"off{i}", 0) for i in range(problem.lines)]
    lp += pulp.lpSum(off) + pulp.lpSum(amounts[problem.lines :])
    for i, change in enumerate(off):
        before = problem.start[i] / problem.unit[i]
        lp += change >= amounts[i] - before
        lp += change >= before - amounts[i]
    left, right = _inequalities(problem, 0)
    for row, limit in zip(left, right, strict=True):
        lp += pulp.lpSum(float(c) * z for c, z in zip(row, amounts, strict=True) if c) <= float(
            limit
        )
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # this CBC goes in PuLP 4
        status = lp.solve(pulp.PULP_CBC_CMD(msg=False))
    return float(pulp.value(lp.objective)) if pulp.LpStatus[status] == "Optimal" else None


def extreme(problem: PlainProblem, coefficients: list[float], sign: int) -> float | None:
    """Least (sign 1) or most (sign -1) of a sum; None where nothing is feasible, inf unbounded."""
    left, right = _inequalities(problem, 0)
    cost = np.array(coefficients) * problem.unit
    size = np.abs(cost).max() or 1.0
    found = linprog(
        sign * cost / size,
        A_ub=left if len(left) else None,
        b_ub=right if len(right) else None,
        bounds=_bounds(problem),
        options=TIGHT,
    )
    assert found.status in (0, 2, 3), found.message
    if found.status == 3:
        return -sign * np.inf
    return sign * float(found.fun) * size if found.status == 0 else None


def extreme_ratio(
    problem: PlainProblem, top: list[float], whole: list[float], sign: int
) -> float | None:
    """Least or most of top / whole by the change of variables of Charnes and Cooper.

    Source: Programming with linear fractional functionals, Naval Research Logistics Quarterly 9
    (1962): z = t x, whole(z) = 1, t >= 0.
    """
    n = len(problem.unit)
    left, right = _inequalities(problem, 1)
    if len(left):
        left[:, n] = -right
    more = []
    for i, (low, high) in enumerate(_bounds(problem)):
        for side, limit in ((-1, low), (1, high)):
            if np.isfinite(limit) and (side, limit) != (-1, 0.0):
                row = np.zeros(n + 1)
                row[i], row[n] = side, -side * limit
                more.append(row)
    if more:
        left = np.vstack([left, more])
    unit = np.array(problem.unit)
    mass = float(np.array(whole) @ np.array(problem.start)) or 1.0
    equal = np.append(np.array(whole) * unit / mass, 0.0)
    cost = np.append(np.array(top) * unit, 0.0)
    size = np.abs(cost).max() or 1.0
    found = linprog(
        sign * cost / size,
        A_ub=left,
        b_ub=np.zeros(len(left)),
        A_eq=equal[None, :],
        b_eq=[1.0],
        bounds=[(0, None)] * (n + 1),
        options=TIGHT,
    )
    assert found.status in (0, 2, 3), found.message
    if found.status == 3:
        return -sign * np.inf
    return sign * float(found.fun) * size / mass if found.status == 0 else None


def least_violation(problem: PlainProblem, goals: int) -> float | None:
    """The least sum of what the first ``goals`` rows miss, each as a fraction of its size.

    Every other row and every bound is kept; None where they alone conflict.
    """
    n = len(problem.unit)
    left, right = [], []
    for number, row in enumerate(problem.rows):
        entries = np.array(row.coefficients) * problem.unit
        for sign, limit in ((1, row.high), (-1, row.low)):
            if not np.isfinite(limit):
                continue
            line = np.concatenate([sign * entries, np.zeros(goals)])
            if number < goals:
                line[n + number] = -row.size
            largest = np.abs(line).max() or 1.0
            left.append(line / largest)
            right.append(sign * limit / largest)
    found = linprog(
        np.concatenate([np.zeros(n), np.ones(goals)]),
        A_ub=np.array(left),
        b_ub=right,
        bounds=[*_bounds(problem), *[(0, None)] * goals],
        options=TIGHT,
    )
    assert found.status in (0, 2), found.message
    return float(found.fun) if found.status == 0 else None

"""A brief written out a second time: plain loops, grams, no scaling to share, another solver's door.

Nothing here is imported from ``reformulate.optimise``. What it repeats from there are rules, not
code: what a change of 1 is, what missing a goal wholly is.
"""

from __future__ import annotations

import warnings
from dataclasses import dataclass

import numpy as np
import pulp
from numpy.typing import NDArray
from scipy.optimize import linprog

from reformulate import ENERGY_FACTORS, BatchHold, Brief, LineHold, Per, RatioHold, Recipe, RoleHold
from tests.strategies import (
    brought_by_a_gram,
    item_foods,
    kept_of_a_gram,
    members,
    original_grams,
    tied_groups,
)

FloatArray = NDArray[np.float64]

FLOORS = {
    "base": 20.0,
    "flavouring": 2.0,
    "fat": 5.0,
    "acid": 3.0,
    "sweetener": 2.0,
    "salt": 0.5,
    "body": 5.0,
    "liquid": 10.0,
    "inclusion": 10.0,
    "garnish": 1.0,
}
TIGHT = {"primal_feasibility_tolerance": 1e-9, "dual_feasibility_tolerance": 1e-9}


@dataclass(frozen=True)
class PlainRow:
    """low <= sum(coefficients * grams) <= high."""

    coefficients: list[float]
    low: float
    high: float
    size: float
    nutrient: str = ""


@dataclass(frozen=True)
class PlainProblem:
    start: list[float]
    unit: list[float]
    bounds: list[tuple[float, float]]
    rows: list[PlainRow]
    lines: int

    def changes(self, grams: list[float] | FloatArray) -> float:
        """Sum of relative changes."""
        total = 0.0
        for i, (now, before) in enumerate(zip(grams, self.start, strict=True)):
            total += abs(float(now) - before) / self.unit[i]
        return total

    def worst(self, grams: list[float] | FloatArray) -> float:
        """Largest violation of a row or bound, as a fraction of the row's own terms."""
        worst = 0.0
        for row in self.rows:
            terms = [c * float(g) for c, g in zip(row.coefficients, grams, strict=True)]
            size = max([abs(term) for term in terms], default=0.0) or 1.0
            worst = max(worst, (row.low - sum(terms)) / size, (sum(terms) - row.high) / size)
        for mass, (low, high) in zip(grams, self.bounds, strict=True):
            worst = max(worst, (low - mass) / max(1.0, low), (mass - high) / max(1.0, low))
        return worst


def write_out(recipe: Recipe, brief: Brief) -> PlainProblem:
    foods = item_foods(recipe, brief)
    start = original_grams(recipe, brief)
    swaps = [swap for swap in brief.swaps if swap.allowed]
    lines = len(recipe.lines)
    who = [*recipe.lines, *[None] * len(swaps)]

    def each(key: str) -> list[float]:
        return [brought_by_a_gram(recipe, line, food, key) for line, food in zip(who, foods, strict=True)]

    def dot(row: list[float]) -> float:
        return sum(c * g for c, g in zip(row, start, strict=True))

    def working(ids: set[str]) -> list[float]:
        row = [1.0 if line.id in ids else 0.0 for line in recipe.lines]
        return row + [1 / s.grams_per_gram if ids & set(s.stands_in_for) else 0.0 for s in swaps]

    rows = []
    energy = each("energy_kcal")
    finished = [kept_of_a_gram(recipe, line, food) for line, food in zip(who, foods, strict=True)]
    for goal in brief.goals:
        row = each(goal.nutrient)
        if goal.per in (Per.SERVING, Per.ORIGINAL):
            unit = recipe.servings if goal.per is Per.SERVING else dot(row) / 100
            low = -np.inf if goal.at_least is None else goal.at_least * unit
            high = np.inf if goal.at_most is None else goal.at_most * unit
            size = max(0.05 * dot(row), 1e-6, *(abs(x) for x in (low, high) if np.isfinite(x)))
            rows.append(PlainRow(row, low, high, size, goal.nutrient))
            continue
        factor = 1.0
        whole = [share / 100 for share in finished]
        if goal.per is Per.ENERGY:
            factor, whole = 100 * ENERGY_FACTORS[goal.nutrient], energy
        for limit, is_least in ((goal.at_least, True), (goal.at_most, False)):
            if limit is None:
                continue
            size = max(limit * dot(whole), 0.05 * factor * dot(row), 1e-6)
            share = [factor * top - limit * of for top, of in zip(row, whole, strict=True)]
            low, high = (0.0, np.inf) if is_least else (-np.inf, 0.0)
            rows.append(PlainRow(share, low, high, size, goal.nutrient))

    def band(row: list[float], tolerance: float) -> PlainRow:
        mass = dot(row)
        return PlainRow(row, mass * (1 - tolerance), mass * (1 + tolerance), mass)

    for hold in brief.holds:
        match hold:
            case BatchHold():
                rows.append(band(finished, hold.tolerance))
            case RoleHold():
                rows.append(band(working(members(recipe, (f"role:{hold.role}",))), hold.tolerance))
            case RatioHold():
                top, bottom = working(members(recipe, hold.of)), working(members(recipe, hold.to))
                ratio = dot(top) / dot(bottom) if hold.ratio is None else hold.ratio
                size = ratio * dot(bottom)
                for sign, low, high in ((-1, 0.0, np.inf), (1, -np.inf, 0.0)):
                    of = ratio * (1 + sign * hold.tolerance)
                    row = [t - of * b for t, b in zip(top, bottom, strict=True)]
                    rows.append(PlainRow(row, low, high, size))
    rows += [band(working(group), brief.swap_band) for group in tied_groups(recipe, brief)]

    bounds = [(0.0, np.inf)] * lines
    for hold in brief.holds:
        if isinstance(hold, LineHold):
            at = [line.id for line in recipe.lines].index(hold.line)
            low, high = 0.0, np.inf
            if hold.tolerance is not None:
                low, high = start[at] * (1 - hold.tolerance), start[at] * (1 + hold.tolerance)
            low = low if hold.least is None else max(low, hold.least)
            high = high if hold.most is None else min(high, hold.most)
            bounds[at] = (low, high)
    unit = [max(before, FLOORS[line.role]) for line, before in zip(recipe.lines, start, strict=False)]
    for swap in swaps:
        replaced = sum(float(recipe.line(name).grams or 0.0) for name in swap.stands_in_for)
        unit.append(swap.grams_per_gram * replaced)
        bounds.append((0.0, swap.largest_share * swap.grams_per_gram * replaced))
    return PlainProblem(start=start, unit=unit, bounds=bounds, rows=rows, lines=lines)


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
        lp += pulp.lpSum(float(c) * z for c, z in zip(row, amounts, strict=True) if c) <= float(limit)
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


def violation(problem: PlainProblem, grams: list[float] | FloatArray, goals: int) -> float:
    """What given grams miss of the first ``goals`` rows, each as a fraction of its size."""
    total = 0.0
    for row in problem.rows[:goals]:
        value = sum(c * float(g) for c, g in zip(row.coefficients, grams, strict=True))
        total += max(0.0, row.low - value, value - row.high) / row.size
    return total


def goal_row_count(brief: Brief) -> int:
    """How many of the rows `write_out` gives are goals'."""
    count = 0
    for goal in brief.goals:
        if goal.per in (Per.SERVING, Per.ORIGINAL):
            count += 1
        else:
            count += (goal.at_least is not None) + (goal.at_most is not None)
    return count

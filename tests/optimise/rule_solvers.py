"""Other solvers' answers to the rules written out plainly: SciPy's linprog and milp, CBC by PuLP."""

from __future__ import annotations

import warnings
from itertools import pairwise

import numpy as np
import pulp
from hypothesis import reject
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, linprog, milp

from tests.optimise.plain import PlainProblem
from tests.optimise.plain_rules import PlainRules
from tests.optimise.plain_solvers import TIGHT, least_change

FloatArray = NDArray[np.float64]

CUSHIONS = (1e-12, 1e-10, 1e-9, 1e-8, 1e-7)
"""How much wider a stage's optimum is kept for the next: it touches, and solvers have tolerances."""

GENEROUS = CUSHIONS[3:]
"""Wider than any program should need; what that is worth to later stages is the price of it."""

InTurn = list[tuple[float, float]]
"""What each stage reaches with generous cushions before it and with the least there are, the lower first:
what a cushion spares one stage a later one may have to pay for."""


class Stages:
    """A linear program of grams in each item's own unit, solved for one cost after the other.

    Columns are the amounts, then how far each line is from the original, then ``more``.
    """

    def __init__(self, problem: PlainProblem, more: int) -> None:
        self.problem = problem
        self.n, self.lines = len(problem.unit), problem.lines
        self.width = self.n + self.lines + more
        self.first_more = self.n + self.lines
        self.left: list[FloatArray] = []
        self.right: list[float] = []
        for row in problem.rows:
            self.at_most(row.coefficients, row.high)
            self.at_most(row.coefficients, row.low, sign=-1)
        for i in range(self.lines):
            before = problem.start[i] / problem.unit[i]
            for sign in (1, -1):
                line = np.zeros(self.width)
                line[i], line[self.n + i] = sign, -1
                self.add(line, sign * before)

    def at_most(
        self,
        coefficients: list[float],
        limit: float,
        *,
        sign: int = 1,
        give: tuple[int, float] | None = None,
    ) -> None:
        """Keep sign * sum(coefficients * grams) <= sign * limit, or give way by a column's multiple."""
        if not np.isfinite(limit):
            return
        line = np.zeros(self.width)
        line[: self.n] = sign * np.array(coefficients) * self.problem.unit
        if give is not None:
            line[self.first_more + give[0]] = -give[1]
        self.add(line, sign * limit)

    def add(self, line: FloatArray, limit: float) -> None:
        """Keep sum(line * columns) <= limit."""
        largest = np.abs(line).max() or 1.0
        self.left.append(line / largest)
        self.right.append(limit / largest)

    def least(self, cost: FloatArray) -> tuple[float, list[float]] | None:
        """The least cost, with grams that have it; None where nothing keeps all limits."""
        unit, bounds = self.problem.unit, self.problem.bounds
        inside = [(low / u, high / u) for (low, high), u in zip(bounds, unit, strict=True)]
        for presolve in (True, False):  # where limits touch, presolve may see none between them
            found = linprog(
                cost,
                A_ub=np.array(self.left),
                b_ub=self.right,
                bounds=[*inside, *[(0, None)] * (self.width - self.n)],
                options={**TIGHT, "presolve": presolve},
            )
            assert found.status in (0, 2), found.message
            if found.status == 0:
                return float(found.fun), (found.x[: self.n] * unit).tolist()
        return None

    def in_turn(self, costs: list[FloatArray]) -> InTurn | None:
        """The least of each cost with what those before it reached kept; None where nothing fits."""
        rows, results = len(self.left), []
        for cushions in (CUSHIONS, GENEROUS):
            del self.left[rows:], self.right[rows:]
            found = self.least(costs[0])
            if found is None:
                return None
            reached = [found[0]]
            for before, cost in pairwise(costs):
                reached.append(self._then(before, reached[-1], cost, cushions))
            results.append(reached)
        narrow, wide = results
        return [(min(pair), max(pair)) for pair in zip(wide, narrow, strict=True)]

    def _then(
        self, before: FloatArray, value: float, cost: FloatArray, cushions: tuple[float, ...]
    ) -> float:
        self.add(before, value)
        for cushion in cushions:
            self.right[-1] = (value + cushion) / (np.abs(before).max() or 1.0)
            found = self.least(cost)
            if found is not None:
                return found[0]
        raise AssertionError("what a stage reached cannot be reached again")

    def more(self, numbers: list[int]) -> FloatArray:
        """The cost that counts some of the further columns."""
        cost = np.zeros(self.width)
        cost[[self.first_more + number for number in numbers]] = 1.0
        return cost

    def changes(self) -> FloatArray:
        """The cost that counts relative changes, and swaps as what they replace."""
        cost = np.zeros(self.width)
        cost[self.lines : self.first_more] = 1.0
        return cost


def preemptive(rules: PlainRules) -> InTurn | None:
    """The least shortfall of each rank, first ranks first, and then the least change."""
    stages = Stages(rules.musts, len(rules.wishes))
    for number, wish in enumerate(rules.wishes):
        give = (number, wish.row.size)
        stages.at_most(wish.row.coefficients, wish.row.high, give=give)
        stages.at_most(wish.row.coefficients, wish.row.low, sign=-1, give=give)
    by_rank = [
        stages.more([i for i, wish in enumerate(rules.wishes) if wish.rank == rank])
        for rank in sorted({wish.rank for wish in rules.wishes})
    ]
    return stages.in_turn([*by_rank, stages.changes()])


def gentlest(problem: PlainProblem) -> InTurn | None:
    """The least largest relative change, and the least sum with none larger."""
    stages = Stages(problem, 1)
    largest = stages.more([0])
    for column in range(problem.lines, stages.first_more):
        line = -largest
        line[column] = 1.0
        stages.add(line, 0.0)
    return stages.in_turn([largest, stages.changes()])


def closest_in_character(
    problem: PlainProblem, kinds: list[tuple[list[float], float]]
) -> InTurn | None:
    """The least sum of |sum(coefficients * grams)| / size over kinds, then the least change."""
    stages = Stages(problem, len(kinds))
    for number, (coefficients, size) in enumerate(kinds):
        for sign in (1, -1):
            stages.at_most(coefficients, 0.0, sign=sign, give=(number, size))
    return stages.in_turn([stages.more(list(range(len(kinds)))), stages.changes()])


def least_by_trying_all(rules: PlainRules) -> float | None:
    """The least change over every set of swaps that may be used together."""
    found = [least_change(rules.under(used)) for used in rules.patterns()]
    return min((least for least in found if least is not None), default=None)


def least_by_milp(rules: PlainRules) -> float | None:
    """The least change with a yes or no for each swap, by SciPy."""
    problem, swaps = rules.musts, len(rules.least)
    stages = Stages(problem, swaps)
    n, unit = stages.n, problem.unit
    for j, least in enumerate(rules.least):
        at = problem.lines + j
        each = [0.0] * n
        each[at] = 1.0
        stages.at_most(each, 0.0, give=(j, problem.bounds[at][1]))
        stages.at_most(each, 0.0, sign=-1, give=(j, -least))
    stages.add(stages.more(list(range(swaps))), float(rules.most_used))
    high = [hi / u for (_, hi), u in zip(problem.bounds, unit, strict=True)]
    low = [lo / u for (lo, _), u in zip(problem.bounds, unit, strict=True)]
    whole = np.zeros(stages.width)
    whole[stages.first_more :] = 1
    found = milp(
        stages.changes(),
        constraints=LinearConstraint(np.array(stages.left), -np.inf, stages.right),
        integrality=whole,
        bounds=Bounds(
            np.array([*low, *[0.0] * problem.lines, *(float(pin) for pin in rules.pinned)]),
            np.array([*high, *[np.inf] * problem.lines, *[1.0] * swaps]),
        ),
        options={"mip_rel_gap": 0.0},
    )
    assert found.status in (0, 2), found.message
    if found.status == 2:
        return None
    return _with_these(rules, found.x[stages.first_more :].tolist(), found.fun)


def least_by_cbc(rules: PlainRules) -> float | None:
    """The same written as sentences in PuLP and solved by CBC."""
    problem = rules.musts
    lp = pulp.LpProblem("rules", pulp.LpMinimize)
    amounts = [
        lp.add_variable(f"z{i}", low / u, None if high == np.inf else high / u)
        for i, ((low, high), u) in enumerate(zip(problem.bounds, problem.unit, strict=True))
    ]
    off = [lp.add_variable(f"off{i}", 0) for i in range(problem.lines)]
    use = [
        lp.add_variable(f"use{j}", int(pin), 1, cat="Integer") for j, pin in enumerate(rules.pinned)
    ]
    lp += pulp.lpSum(off) + pulp.lpSum(amounts[problem.lines :])
    for i, change in enumerate(off):
        before = problem.start[i] / problem.unit[i]
        lp += change >= amounts[i] - before
        lp += change >= before - amounts[i]
    for j, yes in enumerate(use):
        at = problem.lines + j
        lp += amounts[at] <= problem.bounds[at][1] / problem.unit[at] * yes
        lp += amounts[at] >= rules.least[j] / problem.unit[at] * yes
    lp += pulp.lpSum(use) <= rules.most_used
    for row in problem.rows:
        entries = np.array(row.coefficients) * problem.unit
        largest = float(np.abs(entries).max()) or 1.0
        total = pulp.lpSum(
            float(c) / largest * z for c, z in zip(entries, amounts, strict=True) if c
        )
        if np.isfinite(row.high):
            lp += total <= row.high / largest
        if np.isfinite(row.low):
            lp += total >= row.low / largest
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # this CBC goes in PuLP 4
        status = lp.solve(pulp.PULP_CBC_CMD(msg=False, gapRel=0.0))
    if pulp.LpStatus[status] != "Optimal":
        return None
    return _with_these(rules, [yes.value() for yes in use], pulp.value(lp.objective))


def _with_these(rules: PlainRules, use: list[float], claimed: float) -> float | None:
    """The least change with the swaps a solver chose: its yes and no are whole only to 1e-6."""
    used = tuple(j for j, yes in enumerate(use) if yes > 0.5)
    least = least_change(rules.under(used))
    if least is None:
        reject()  # kept to the solver's 1e-6 only: it does not say whether there is an answer
    assert abs(least - claimed) <= 1e-4 * (1 + abs(least))
    return least

"""A brief written out a second time: plain loops, grams, no scaling to share, another solver's door.

Nothing here is imported from ``reformulate.optimise``. What it repeats from there are rules, not
code: what a change of 1 is, what missing a goal wholly is.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reformulate import (
    ENERGY_FACTORS,
    BatchHold,
    Brief,
    Goal,
    Hold,
    Line,
    LineHold,
    Per,
    Recipe,
    RoleHold,
    Swap,
)
from tests.recipes.plain_sums import (
    FOODS,
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


@dataclass(frozen=True)
class _Written:
    """A recipe and a brief with the sums their rows are made of."""

    recipe: Recipe
    brief: Brief

    @property
    def swaps(self) -> list[Swap]:
        return [swap for swap in self.brief.swaps if swap.allowed]

    @property
    def start(self) -> list[float]:
        return original_grams(self.recipe, self.brief)

    def items(self) -> list[tuple[Line | None, str]]:
        lines = [*self.recipe.lines, *[None] * len(self.swaps)]
        return list(zip(lines, item_foods(self.recipe, self.brief), strict=True))

    def each(self, key: str) -> list[float]:
        return [brought_by_a_gram(self.recipe, line, food, key) for line, food in self.items()]

    def finished(self) -> list[float]:
        return [kept_of_a_gram(self.recipe, line, food) for line, food in self.items()]

    def dot(self, row: list[float]) -> float:
        return sum(c * g for c, g in zip(row, self.start, strict=True))

    def working(self, ids: set[str]) -> list[float]:
        row = [1.0 if line.id in ids else 0.0 for line in self.recipe.lines]
        return row + [
            1 / swap.grams_per_gram if ids & set(swap.stands_in_for) else 0.0 for swap in self.swaps
        ]

    def band(self, row: list[float], tolerance: float) -> PlainRow:
        mass = self.dot(row)
        return PlainRow(row, mass * (1 - tolerance), mass * (1 + tolerance), mass)


def write_out(recipe: Recipe, brief: Brief) -> PlainProblem:
    written = _Written(recipe, brief)
    rows = [row for goal in brief.goals for row in _goal_rows(written, goal)]
    rows += [row for hold in brief.holds for row in _hold_rows(written, hold)]
    rows += [
        written.band(written.working(group), brief.swap_band)
        for group in tied_groups(recipe, brief)
    ]
    if recipe.moisture_loss_percent > 0 and water_known(recipe, brief):
        water = written.each("water_g")
        rows.append(PlainRow(water, 0.0, np.inf, max(written.dot(water), 1.0)))
    start = written.start
    unit = [
        max(before, FLOORS[line.role]) for line, before in zip(recipe.lines, start, strict=False)
    ]
    bounds = [
        _line_bounds(brief, line.id, mass) for line, mass in zip(recipe.lines, start, strict=False)
    ]
    for swap in written.swaps:
        replaced = sum(float(recipe.line(name).grams or 0.0) for name in swap.stands_in_for)
        unit.append(swap.grams_per_gram * replaced)
        bounds.append((0.0, swap.largest_share * swap.grams_per_gram * replaced))
    return PlainProblem(start=start, unit=unit, bounds=bounds, rows=rows, lines=len(recipe.lines))


def water_known(recipe: Recipe, brief: Brief) -> bool:
    return all(FOODS.known[FOODS.index(food), 0] for food in item_foods(recipe, brief))


def _goal_rows(written: _Written, goal: Goal) -> list[PlainRow]:
    row = written.each(goal.nutrient)
    original = written.dot(row)
    if goal.per in (Per.SERVING, Per.ORIGINAL):
        unit = written.recipe.servings if goal.per is Per.SERVING else original / 100
        low = -np.inf if goal.at_least is None else goal.at_least * unit
        high = np.inf if goal.at_most is None else goal.at_most * unit
        size = max(0.05 * original, 1e-6, *(abs(x) for x in (low, high) if np.isfinite(x)))
        return [PlainRow(row, low, high, size, goal.nutrient)]
    factor, whole = 1.0, [share / 100 for share in written.finished()]
    if goal.per is Per.ENERGY:
        factor, whole = 100 * ENERGY_FACTORS[goal.nutrient], written.each("energy_kcal")
    rows = []
    for limit, is_least in ((goal.at_least, True), (goal.at_most, False)):
        if limit is None:
            continue
        size = max(limit * written.dot(whole), 0.05 * factor * original, 1e-6)
        share = [factor * top - limit * of for top, of in zip(row, whole, strict=True)]
        low, high = (0.0, np.inf) if is_least else (-np.inf, 0.0)
        rows.append(PlainRow(share, low, high, size, goal.nutrient))
    return rows


def _hold_rows(written: _Written, hold: Hold) -> list[PlainRow]:
    recipe = written.recipe
    match hold:
        case BatchHold():
            return [written.band(written.finished(), hold.tolerance)]
        case RoleHold():
            row = written.working(members(recipe, (f"role:{hold.role}",)))
            return [written.band(row, hold.tolerance)]
        case LineHold():
            return []
    top, bottom = (written.working(members(recipe, group)) for group in (hold.of, hold.to))
    ratio = written.dot(top) / written.dot(bottom) if hold.ratio is None else hold.ratio
    rows = []
    for sign, low, high in ((-1, 0.0, np.inf), (1, -np.inf, 0.0)):
        of = ratio * (1 + sign * hold.tolerance)
        row = [t - of * b for t, b in zip(top, bottom, strict=True)]
        rows.append(PlainRow(row, low, high, ratio * written.dot(bottom)))
    return rows


def _line_bounds(brief: Brief, line_id: str, mass: float) -> tuple[float, float]:
    low, high = 0.0, np.inf
    for hold in brief.holds:
        if isinstance(hold, LineHold) and hold.line == line_id:
            if hold.tolerance is not None:
                low, high = mass * (1 - hold.tolerance), mass * (1 + hold.tolerance)
            low = low if hold.least is None else max(low, hold.least)
            high = high if hold.most is None else min(high, hold.most)
    return low, high


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

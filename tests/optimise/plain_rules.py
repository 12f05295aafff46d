"""Rules on swaps, wishes, headroom and character, written out a second time beside ``plain``.

Nothing here is imported from ``reformulate.optimise``. What it repeats from there are rules, not
code: how much of a swap is worth while, what missing a wish wholly is.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations
from pathlib import Path

import numpy as np

import reformulate.foods
from reformulate import ENERGY_FACTORS, Brief, CharacterHold, Goal, Line, Per, Recipe
from tests.optimise.plain import PlainProblem, PlainRow, write_out
from tests.recipes.plain_sums import (
    COLUMN,
    FOODS,
    brought_by_a_gram,
    item_foods,
    kept_of_a_gram,
    original_grams,
)

TABLESPOON, TENTH = 15.0, 0.1
DUST = 1e-5
"""Grams a solver's tolerance may leave of what is not used [g]."""

SHARES = (Per.HUNDRED_GRAMS, Per.ENERGY)

LITTLE = {
    "saltiness": 0.3,
    "sweetness": 1.0,
    "sourness": 0.1,
    "savouriness": 20.0,
    "pungency": 0.5,
    "richness": 2.0,
    "moisture": 10.0,
    "body": 5.0,
}
"""Below this, per 100 g, a change of a property is measured against this."""


@dataclass(frozen=True)
class PlainWish:
    """One wish: its limits, and what missing them wholly is."""

    rank: int
    row: PlainRow

    def missed(self, grams: list[float]) -> float:
        value = sum(c * g for c, g in zip(self.row.coefficients, grams, strict=True))
        return max(0.0, self.row.low - value, value - self.row.high) / self.row.size


@dataclass(frozen=True)
class PlainRules:
    """Musts and holds, and beside them what no linear program says."""

    musts: PlainProblem
    """Every must, headroom counted, and every hold; a swap may be used by any amount."""
    wishes: list[PlainWish]
    least: list[float]
    """Least grams of each swap, if any is used."""
    pinned: list[bool]
    most_used: int

    def swap_grams(self, grams: list[float]) -> list[float]:
        return grams[self.musts.lines :]

    def worst(self, grams: list[float]) -> float:
        """Largest violation of a must or hold, as it is or with dust as nothing: their ratio is none."""
        cleaned = [mass if mass > 1e-6 else 0.0 for mass in grams]
        return min(self.musts.worst(cleaned), self.musts.worst(grams))

    def broken(self, grams: list[float]) -> list[str]:
        """What grams break of the rules on swaps."""
        said = []
        mass = self.swap_grams(grams)
        for number, (now, least, pin) in enumerate(zip(mass, self.least, self.pinned, strict=True)):
            if DUST < now < least - DUST or (pin and now < least - DUST):
                said.append(f"{now:g} g of swap {number}, least {least:g} g, pinned {pin}")
        used = sum(now > DUST for now in mass)
        if used > self.most_used:
            said.append(f"{used} swaps, {self.most_used} allowed")
        return said

    def patterns(self) -> Iterator[tuple[int, ...]]:
        """Every set of swaps that may be used together."""
        need = {i for i, pin in enumerate(self.pinned) if pin}
        for size in range(min(self.most_used, len(self.least)) + 1):
            for used in combinations(range(len(self.least)), size):
                if need <= set(used):
                    yield used

    def under(self, used: tuple[int, ...]) -> PlainProblem:
        """The program in which these swaps are used, each enough, and no others."""
        bounds = list(self.musts.bounds)
        for number, least in enumerate(self.least):
            at = self.musts.lines + number
            bounds[at] = (least, bounds[at][1]) if number in used else (0.0, 0.0)
        return replace(self.musts, bounds=bounds)

    def shortfalls(self, grams: list[float]) -> list[float]:
        """Sum of what the wishes of each rank miss, rank by rank."""
        ranks = sorted({wish.rank for wish in self.wishes})
        return [sum(w.missed(grams) for w in self.wishes if w.rank == rank) for rank in ranks]


def inside(goal: Goal) -> Goal:
    """The goal whose limits are what the amounts keep, headroom counted."""
    low, high = goal.at_least, goal.at_most
    return replace(
        goal,
        at_least=None if low is None else low + low * goal.headroom,
        at_most=None if high is None else high - high * goal.headroom,
        headroom=0.0,
    )


def write_rules(recipe: Recipe, brief: Brief) -> PlainRules:
    musts = tuple(inside(goal) for goal in brief.goals if goal.rank == 0)
    on_character = [hold for hold in brief.holds if isinstance(hold, CharacterHold)]
    others = tuple(hold for hold in brief.holds if not isinstance(hold, CharacterHold))
    plain = write_out(recipe, replace(brief, goals=musts, holds=others))
    more = [row for hold in on_character for row in character_rows(recipe, brief, hold)]
    swaps = [swap for swap in brief.swaps if swap.allowed]
    least = []
    for swap, (_, most) in zip(swaps, plain.bounds[plain.lines :], strict=True):
        work = sum(float(recipe.line(name).grams or 0.0) for name in swap.stands_in_for)
        usual = min(TABLESPOON, TENTH * swap.grams_per_gram * work)
        least.append(min(usual if swap.least is None else swap.least, most))
    return PlainRules(
        musts=replace(plain, rows=[*plain.rows, *more]),
        wishes=[
            PlainWish(goal.rank, row)
            for goal in brief.goals
            if goal.rank
            for row in _wish_rows(recipe, brief, goal)
        ],
        least=least,
        pinned=[swap.pinned for swap in swaps],
        most_used=len(swaps) if brief.max_swaps is None else brief.max_swaps,
    )


def _wish_rows(recipe: Recipe, brief: Brief, goal: Goal) -> list[PlainRow]:
    alone = replace(brief, goals=(inside(replace(goal, rank=0)),), holds=())
    rows = [row for row in write_out(recipe, alone).rows if row.nutrient == goal.nutrient]
    original = sum_of(recipe, brief, goal.nutrient)
    size = max(original, recipe.servings)
    if goal.per is Per.HUNDRED_GRAMS:
        size = max(original, finished(recipe, brief) / 100)
    elif goal.per is Per.ENERGY:
        energy = sum_of(recipe, brief, "energy_kcal")
        size = max(100 * ENERGY_FACTORS[goal.nutrient] * original, energy)
    return [replace(row, size=size) for row in rows]


def sum_of(recipe: Recipe, brief: Brief, key: str) -> float:
    """What the original has of a nutrient or property."""
    each = quantity_of_each(recipe, brief, key)
    return sum(c * g for c, g in zip(each, original_grams(recipe, brief), strict=True))


def finished_of_each(recipe: Recipe, brief: Brief) -> list[float]:
    return [
        kept_of_a_gram(recipe, line, food)
        for line, food in zip(_whose(recipe, brief), item_foods(recipe, brief), strict=True)
    ]


def finished(recipe: Recipe, brief: Brief) -> float:
    """Finished mass of the original."""
    each = finished_of_each(recipe, brief)
    return sum(c * g for c, g in zip(each, original_grams(recipe, brief), strict=True))


def quantity_of_each(recipe: Recipe, brief: Brief, key: str) -> list[float]:
    return [
        quantity_of_a_gram(recipe, line, food, key)
        for line, food in zip(_whose(recipe, brief), item_foods(recipe, brief), strict=True)
    ]


def _whose(recipe: Recipe, brief: Brief) -> list[Line | None]:
    return [*recipe.lines, *(None for swap in brief.swaps if swap.allowed)]


def character_rows(recipe: Recipe, brief: Brief, hold: CharacterHold) -> list[PlainRow]:
    """Limits on a property per 100 g of finished food, as sums over grams."""
    each, share = (
        quantity_of_each(recipe, brief, hold.quality),
        [kept / 100 for kept in finished_of_each(recipe, brief)],
    )
    whole = finished(recipe, brief) / 100
    original = sum_of(recipe, brief, hold.quality)
    rows = []
    for sign, band in ((-1, hold.at_least), (1, hold.at_most)):
        limits = [] if band is None else [band]
        if hold.tolerance is not None:
            limits.append(original / whole * (1 + sign * hold.tolerance))
        for limit in limits:
            row = [top - limit * of for top, of in zip(each, share, strict=True)]
            low, high = (0.0, np.inf) if sign < 0 else (-np.inf, 0.0)
            rows.append(PlainRow(row, low, high, max(limit * whole, 0.05 * original, 1e-6)))
    return rows


def quantity_of_a_gram(recipe: Recipe, line: Line | None, food: str, key: str) -> float:
    """What one listed gram brings of a nutrient, or of a property of character."""
    same = {"richness": "fat_g", "moisture": "water_g"}
    if key in COLUMN or key in same:
        return brought_by_a_gram(recipe, line, food, same.get(key, key))
    edible = FOODS.food(food).edible_share if line is not None and line.as_bought else 1.0
    if key not in ("saltiness", "body"):
        return edible * stated().get((food, key), 0.0) / 100
    raw = replace(recipe, moisture_loss_percent=0.0)
    salt = 2.5421 * brought_by_a_gram(raw, line, food, "sodium_mg") / 1000
    if key == "saltiness":
        return salt
    others = ("water_g", "fat_g", "sugars_g")
    if not all(FOODS.known[FOODS.index(food), COLUMN[k]] for k in (*others, "sodium_mg")):
        return 0.0
    return max(0.0, edible - salt - sum(brought_by_a_gram(raw, line, food, k) for k in others))


@cache
def stated() -> dict[tuple[str, str], float]:
    """The stated properties as the table writes them, per 100 g."""
    path = Path(reformulate.foods.__file__).with_name("character.csv")
    with path.open(encoding="utf-8", newline="") as file:
        return {(row["food"], row["property"]): float(row["value"]) for row in csv.DictReader(file)}

"""The things whose grams may move: the recipe's lines, then the swaps that are allowed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Brief, LineHold, Swap
from reformulate.errors import BadInput, Problem
from reformulate.foods import FoodTable
from reformulate.recipes import Batch, Ingredient, Line, ingredient

FloatArray = NDArray[np.float64]

ROLE_FLOOR: Final = {
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
"""Least mass a change is measured against, by role [g]; MODEL.md §3. Our own choice."""

SPOONFUL: Final = 15.0
"""Least of a swap that is worth its place: a tablespoon of something moist [g]; our own choice."""

LEAST_SHARE: Final = 0.1
"""The same where a swap stands in for little, as a share of its mass [1]; our own choice."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Items:
    """Lines and allowed swaps with what the model needs of each; n items."""

    lines: tuple[Line, ...]
    """The recipe's lines: item i is line i for i below their number."""
    swaps: tuple[Swap, ...]
    """The allowed swaps: the items after the lines."""
    ingredients: tuple[Ingredient, ...]
    """(n,) what a gram of each brings."""
    per_gram: FloatArray
    """(n, 39) the same as one matrix [unit per g]."""
    known: NDArray[np.bool_]
    """(n, 39) whether the figure behind it is known."""
    yields: FloatArray
    """(n,) finished grams per listed gram [g/g]."""
    original: FloatArray
    """(n,) grams in the original [g], 0 for swaps."""
    scale: FloatArray
    """(n,) grams that count as a change of 1 [g]."""
    least: FloatArray
    """(n,) least grams allowed [g]."""
    most: FloatArray
    """(n,) most grams allowed [g], inf for none."""
    least_used: FloatArray
    """(n,) least grams of a swap, if any is used [g]: 0 for lines."""
    work: FloatArray
    """(n,) grams of the original each gram does the work of [g/g]: 1 for lines."""

    def standing_in(self, line_ids: frozenset[str]) -> FloatArray:
        """(n,) the working grams each gram adds to a group of lines [g/g], 0 outside it."""
        inside = [line.id in line_ids for line in self.lines]
        inside += [not line_ids.isdisjoint(swap.stands_in_for) for swap in self.swaps]
        return np.where(inside, self.work, 0.0)


def collect_items(batch: Batch, brief: Brief, foods: FoodTable) -> Items:
    """Line up the lines of a weighed recipe and the swaps its brief allows.

    Raises
    ------
    BadInput
        If a swap names a food that is not known, or a line's tolerance and range exclude each other.
    """
    recipe = batch.recipe
    swaps = tuple(swap for swap in brief.swaps if swap.allowed)
    mass = dict(zip((line.id for line in recipe.lines), batch.grams.tolist(), strict=True))
    stood_for = [sum(mass[line_id] for line_id in swap.stands_in_for) for swap in swaps]
    limits = [_line_limits(brief.hold_on(line.id), mass[line.id]) for line in recipe.lines]
    crossed = [
        Problem(
            f"hold on {line.id}",
            f"asks for at least {least:g} g and at most {most:g} g, its tolerance counted.",
            "Loosen its tolerance or its range.",
        )
        for line, (least, most) in zip(recipe.lines, limits, strict=True)
        if least > most
    ]
    if crossed:
        raise BadInput(crossed)
    most = [
        swap.largest_share * swap.grams_per_gram * grams
        for swap, grams in zip(swaps, stood_for, strict=True)
    ]
    least_used = [
        _least_used(swap, grams, cap)
        for swap, grams, cap in zip(swaps, stood_for, most, strict=True)
    ]
    limits += [
        (least if swap.pinned else 0.0, cap)
        for swap, least, cap in zip(swaps, least_used, most, strict=True)
    ]
    ingredients = (
        *batch.ingredients,
        *(
            ingredient(swap.food, foods, moisture_loss_percent=recipe.moisture_loss_percent)
            for swap in swaps
        ),
    )
    return Items(
        lines=recipe.lines,
        swaps=swaps,
        ingredients=ingredients,
        per_gram=np.array([item.per_gram for item in ingredients]),
        known=np.array([item.known for item in ingredients]),
        yields=np.array([item.yield_share for item in ingredients]),
        original=np.concatenate([batch.grams, np.zeros(len(swaps))]),
        scale=np.array(
            [max(mass[line.id], ROLE_FLOOR[line.role]) for line in recipe.lines]
            + [s.grams_per_gram * grams for s, grams in zip(swaps, stood_for, strict=True)]
        ),
        least=np.array([least for least, _ in limits]),
        most=np.array([most for _, most in limits]),
        least_used=np.array([0.0] * len(recipe.lines) + least_used),
        work=np.array([1.0] * len(recipe.lines) + [1.0 / swap.grams_per_gram for swap in swaps]),
    )


def _least_used(swap: Swap, stood_for: float, most: float) -> float:
    """Return the least grams of a swap, if any is used: what a cook would take the trouble for."""
    usual = min(SPOONFUL, LEAST_SHARE * swap.grams_per_gram * stood_for)
    if swap.least is None or (swap.pinned and swap.least <= 0.0):
        return min(usual, most)
    return min(swap.least, most)


def _line_limits(hold: LineHold | None, grams: float) -> tuple[float, float]:
    if hold is None:
        return 0.0, np.inf
    least, most = 0.0, np.inf
    if hold.tolerance is not None:
        least, most = grams * (1 - hold.tolerance), grams * (1 + hold.tolerance)
    if hold.least is not None:
        least = max(least, hold.least)
    if hold.most is not None:
        most = min(most, hold.most)
    return least, most


def swap_groups(items: Items) -> tuple[frozenset[str], ...]:
    """Return the groups of lines that swaps tie together, in the recipe's order."""
    groups: list[frozenset[str]] = []
    for swap in items.swaps:
        joined = frozenset(swap.stands_in_for)
        apart = [group for group in groups if group.isdisjoint(joined)]
        for group in groups:
            if not group.isdisjoint(joined):
                joined |= group
        groups = [*apart, joined]
    order = {line.id: i for i, line in enumerate(items.lines)}
    return tuple(sorted(groups, key=lambda group: min(order[line_id] for line_id in group)))

"""Choices grown item by item, all at once, dropping those that cannot be completed or cost too much."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from reformulate.optimise.choice_bound import Prices
from reformulate.optimise.choice_task import Task

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int_]
BoolArray = NDArray[np.bool_]

WIDTH: Final = 200
"""Most partial choices kept [count]. Measured: 100 to 500 are about equally quick."""

GUIDE: Final = 1e-3
"""How much of the guide is added to bounds to tell which partial choices are kept [1]."""

ONE_SIDED: Final = 0.1
"""Room of a row with one limit, beside the largest it can come to [1]."""

LEAST_ROOM: Final = 1e-6
"""Room added to every row, beside the largest it can come to [1]: a row may have none."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Grown:
    """What came of growing choices."""

    pick: IntArray | None = None
    """(n,) number of the option taken for each item in the cheapest choice found; None for none."""
    cost: float = np.inf
    """What it costs, misses included [1]; inf for none."""
    bound: float = np.inf
    """No choice that was dropped for want of room costs less than this [1]; inf if none was."""


def grow(task: Task, is_open: BoolArray, prices: Prices, below: float) -> Grown:
    """Find the cheapest choice among open options, or a cheap one and what others cost at least.

    Starts with no item and adds every option of one item after the other to all partial choices that
    are left. One is dropped if it misses a must whatever is taken for the other items, or if it comes
    to ``below`` or more: by its own costs and the least of the others', or by the prices. There is
    room for `WIDTH`, those with the least bounds.

    Parameters
    ----------
    is_open : (N,)
    prices : Prices
        Such as were found for the open options.
    below : float
        Only a choice that costs less is of use [1].
    """
    left = _fitting(task, is_open & (prices.excess < below - prices.bound), below)
    if left is None:
        return Grown()
    choices = _Partial(task, prices, left, below)
    bound = np.inf
    for item in choices.order():
        bound = min(bound, choices.add(item))
        if not choices.count:
            return Grown(bound=bound)
    pick, cost = choices.cheapest()
    return Grown(pick=pick, cost=cost, bound=bound)


class _Partial:
    """Partial choices, s of them, each with an option of every item added so far."""

    def __init__(self, task: Task, prices: Prices, left: BoolArray, below: float) -> None:
        self._task, self._prices, self._left, self._below = task, prices, left, below
        self._least = np.minimum.reduceat(np.where(left, task.cost, np.inf), task.first)
        self._low, self._high = _ends(task, left)
        self._rest = np.ones(len(task.first), dtype=bool)
        self._soft = np.where(task.musts, 0.0, task.price)
        self._up, self._down = np.maximum(prices.row, 0.0), np.maximum(-prices.row, 0.0)
        self._paid_lower = np.where(self._up > 0.0, task.lower, 0.0)[:, None]
        self._paid_upper = np.where(self._down > 0.0, task.upper, 0.0)[:, None]
        self._cost = self._excess = self._guide = self._own = np.zeros(1)
        self._sums = np.zeros((len(task.lower), 1))
        self._added: list[tuple[int, IntArray, IntArray]] = []

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self._cost)

    def order(self) -> list[int]:
        """Return the items, those first that move a row most beside the room between its limits."""
        lower, upper = self._task.lower, self._task.upper
        size = np.maximum(np.abs(self._low.sum(axis=1)), np.abs(self._high.sum(axis=1)))
        one_sided = np.isinf(lower) != np.isinf(upper)
        room = np.where(one_sided, ONE_SIDED * size, upper - lower) + LEAST_ROOM * size
        room = np.where(room > 0.0, room, np.inf)[:, None]
        moves = ((self._high - self._low) / room).max(axis=0, initial=0.0)
        order: list[int] = np.argsort(-moves, kind="stable").tolist()
        return order

    def add(self, item: int) -> float:
        """Add each option of an item to each partial choice; return what those without room cost."""
        task = self._task
        at = np.flatnonzero(self._left & (task.item == item))
        self._rest[item] = False
        excess = self._prices.bound + self._excess[:, None] + self._prices.excess[at]
        cost = self._least[self._rest].sum() + self._cost[:, None] + task.cost[at]
        bound = np.maximum(excess, cost)
        before, number = np.nonzero(bound < self._below)
        bound, dropped = bound[before, number], np.inf
        if len(bound) > WIDTH:
            guide = self._guide[before] + task.guide[at[number]]
            kept = np.argpartition(bound + GUIDE * guide, WIDTH)
            dropped = float(bound[kept[WIDTH:]].min())
            kept = np.sort(kept[:WIDTH])
            before, number = before[kept], number[kept]
        self._take(item, before, at[number])
        return dropped

    def _take(self, item: int, before: IntArray, option: IntArray) -> None:
        """Continue the numbered partial choices with one option each; keep those that are of use."""
        task, prices = self._task, self._prices
        cost = self._cost[before] + task.cost[option]
        excess = self._excess[before] + prices.excess[option]
        sums = self._sums[:, before] + task.adds[:, option]
        low = sums + self._low[:, self._rest].sum(axis=1, keepdims=True)
        high = sums + self._high[:, self._rest].sum(axis=1, keepdims=True)
        missed = task.missed(low, high)
        own = self._least[self._rest].sum() + cost + self._soft @ missed
        # What a row keeps clear of the limit that is paid for costs its price.
        priced = prices.bound + excess + self._up @ np.maximum(low - self._paid_lower, 0.0)
        priced += self._down @ np.maximum(self._paid_upper - high, 0.0)
        keeps = (np.maximum(own, priced) < self._below) & task.allows(missed)
        self._cost, self._excess, self._own = cost[keeps], excess[keeps], own[keeps]
        self._sums = sums[:, keeps]
        self._guide = (self._guide[before] + task.guide[option])[keeps]
        self._added.append((item, before[keeps], option[keeps]))

    def cheapest(self) -> tuple[IntArray, float]:
        """Return the cheapest, all items added, and its cost with what it misses."""
        at = int(np.argmin(self._own))
        cost = float(self._own[at])
        pick = np.zeros_like(self._task.first)
        for item, before, option in reversed(self._added):
            pick[item] = option[at] - self._task.first[item]
            at = int(before[at])
        return pick, cost


def _fitting(task: Task, left: BoolArray, below: float) -> BoolArray | None:
    """Leave out options with which a must is missed, or too much is paid, whatever else is taken.

    None where an item has no option left.
    """
    musts = task.musts
    adds, lower, upper = task.adds[musts], task.lower[musts, None], task.upper[musts, None]
    while True:
        least = np.minimum.reduceat(np.where(left, task.cost, np.inf), task.first)
        if np.isinf(least).any():
            return None
        low, high = (ends[musts] for ends in _ends(task, left))
        others_low = (low.sum(axis=1)[:, None] - low)[:, task.item]
        others_high = (high.sum(axis=1)[:, None] - high)[:, task.item]
        fits = ((adds + others_low <= upper) & (adds + others_high >= lower)).all(axis=0)
        now = left & fits & (task.cost - least[task.item] < below - least.sum())
        if np.array_equal(now, left):
            return left
        left = now


def _ends(task: Task, left: BoolArray) -> tuple[FloatArray, FloatArray]:
    """(m, n), (m, n) the least and the most each item adds to each row [row unit]."""
    low = np.minimum.reduceat(np.where(left, task.adds, np.inf), task.first, axis=1)
    high = np.maximum.reduceat(np.where(left, task.adds, -np.inf), task.first, axis=1)
    return low, high

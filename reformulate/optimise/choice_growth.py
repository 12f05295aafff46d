"""Choices grown item by item, all at once, dropping those that cannot be completed or cost too much."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reformulate.optimise.choice_bound import Prices
from reformulate.optimise.choice_task import Task

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int_]
BoolArray = NDArray[np.bool_]


GUIDE = 1e-3


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Grown:
    """What came of growing choices."""

    pick: IntArray | None
    """(n,) number of the option taken for each item in the cheapest choice found; None for none."""
    cost: float
    """What it costs, misses included [1]."""
    bound: float
    """No choice that was dropped for want of room costs less than this [1]; inf if none was."""


NOTHING = Grown(pick=None, cost=np.inf, bound=np.inf)


def grow(task: Task, is_open: BoolArray, prices: Prices, below: float, width: int) -> Grown:
    """Find the cheapest choice among open options, or prove what it costs at least.

    Starts with no item and takes all options of one item after the other to all partial choices that
    are left. One is dropped if it misses a must whatever is taken for the other items, or if it comes
    to ``below`` or more: by its own costs and the least of the others', or by the prices. Of those left
    the ``width`` least bounds are kept; what the others cost at least is told.

    Parameters
    ----------
    is_open : (N,)
    prices : Prices
        Such as were found for the open options.
    below : float
        Only a choice that costs less is of use [1].
    width : int
        Most partial choices kept [count].
    """
    left = _fitting(task, is_open & (prices.excess < below - prices.bound), below)
    if left is None:
        return NOTHING
    ends = _ends(task, left)
    choices = _Partial(task, prices, ends, np.where(left, task.cost, np.inf))
    bound = np.inf
    for item in _order(task, left, ends):
        at = np.flatnonzero(left & (task.item == item))
        choices.take(int(item), at[np.argsort(prices.excess[at], kind="stable")], below)
        bound = min(bound, choices.drop(below, width))
        if not choices.count:
            return Grown(pick=None, cost=np.inf, bound=bound)
    pick, cost = choices.cheapest()
    return Grown(pick=pick, cost=cost, bound=bound)


class _Partial:
    """Partial choices: s of them, each with an option for every item taken so far."""

    def __init__(
        self, task: Task, prices: Prices, ends: tuple[FloatArray, FloatArray], cost: FloatArray
    ) -> None:
        self._task, self._prices, self._ends = task, prices, ends
        self._least = np.minimum.reduceat(cost, task.first)
        self._rest = self._least.sum()
        self._rest_low, self._rest_high = ends[0].sum(axis=1), ends[1].sum(axis=1)
        self._musts = task.musts
        self._soft = np.where(self._musts, 0.0, task.price)
        self._down, self._up = np.maximum(-prices.row, 0.0), np.maximum(prices.row, 0.0)
        self._floor = np.where(self._up > 0.0, task.lower, 0.0)[:, None]
        self._ceiling = np.where(self._down > 0.0, task.upper, 0.0)[:, None]
        self._sums = np.zeros((len(task.lower), 1))
        self._cost, self._excess, self._guide = np.zeros(1), np.zeros(1), np.zeros(1)
        self._taken: list[tuple[int, IntArray, IntArray]] = []

    @property
    def count(self) -> int:
        return len(self._cost)

    def take(self, item: int, at: IntArray, below: float) -> None:
        """Continue each partial choice with each option of one item that ``at`` numbers."""
        task = self._task
        excess = self._excess[:, None] + self._prices.excess[at]
        before, number = np.nonzero(excess < below - self._prices.bound)
        option = at[number]
        self._excess = excess[before, number]
        self._cost = self._cost[before] + task.cost[option]
        self._guide = self._guide[before] + task.guide[option]
        self._sums = self._sums[:, before] + task.adds[:, option]
        self._taken.append((item, before, option))
        self._rest -= self._least[item]
        self._rest_low = self._rest_low - self._ends[0][:, item]
        self._rest_high = self._rest_high - self._ends[1][:, item]

    def drop(self, below: float, width: int) -> float:
        """Drop what is of no use, and what there is no room for; return the latter's least bound."""
        task = self._task
        low, high = self._sums + self._rest_low[:, None], self._sums + self._rest_high[:, None]
        missed = task.missed(low, high)
        own = self._cost + self._rest + self._soft @ missed
        # What a row keeps clear of the limit it is paid for costs its price.
        priced = self._prices.bound + self._excess
        priced += self._up @ np.maximum(low - self._floor, 0.0)
        priced += self._down @ np.maximum(self._ceiling - high, 0.0)
        bound = np.maximum(own, priced)
        keeps = (bound < below) & ~missed[self._musts].any(axis=0)
        if len(task.most):
            keeps &= (task.shares @ missed <= task.most[:, None]).all(axis=0)
        kept, dropped = np.flatnonzero(keeps), np.inf
        if len(kept) > width:
            order = np.argpartition(bound[kept] + GUIDE * self._guide[kept], width)
            dropped = float(bound[kept[order[width:]]].min())
            kept = np.sort(kept[order[:width]])
        self._cost, self._excess, self._guide = self._cost[kept], self._excess[kept], self._guide[kept]
        self._sums = self._sums[:, kept]
        item, before, option = self._taken[-1]
        self._taken[-1] = item, before[kept], option[kept]
        self._own = own[kept]
        return dropped

    def cheapest(self) -> tuple[IntArray, float]:
        """Return the cheapest of the choices, all items taken, and its cost."""
        at = int(np.argmin(self._own))
        cost = float(self._own[at])
        pick = np.zeros_like(self._task.first)
        for item, before, option in reversed(self._taken):
            pick[item] = option[at] - self._task.first[item]
            at = int(before[at])
        return pick, cost


def _ends(task: Task, left: BoolArray) -> tuple[FloatArray, FloatArray]:
    """(m, n), (m, n) the least and the most each item adds to each row [row unit]."""
    low = np.minimum.reduceat(np.where(left, task.adds, np.inf), task.first, axis=1)
    high = np.maximum.reduceat(np.where(left, task.adds, -np.inf), task.first, axis=1)
    return low, high


def _fitting(task: Task, left: BoolArray, below: float) -> BoolArray | None:
    """Leave out options with which a must is missed or too much is paid whatever else is taken.

    None where an item has no option left.
    """
    musts = task.musts
    adds, lower, upper = task.adds[musts], task.lower[musts, None], task.upper[musts, None]
    while True:
        cost = np.where(left, task.cost, np.inf)
        least = np.minimum.reduceat(cost, task.first)
        if np.isinf(least).any():
            return None
        low, high = (ends[musts] for ends in _ends(task, left))
        others_low = (low.sum(axis=1)[:, None] - low)[:, task.item]
        others_high = (high.sum(axis=1)[:, None] - high)[:, task.item]
        fits = ((adds + others_low <= upper) & (adds + others_high >= lower)).all(axis=0)
        now = left & fits & (cost - least[task.item] < below - least.sum())
        if np.array_equal(now, left):
            return left
        left = now


def _order(task: Task, left: BoolArray, ends: tuple[FloatArray, FloatArray]) -> IntArray:
    """Return the items, those first that move a row most beside the room between its limits."""
    low, high = ends
    room = task.upper - task.lower
    scale = np.maximum(np.abs(low.sum(axis=1)), np.abs(high.sum(axis=1)))
    room = np.where(np.isfinite(room), room, 0.1 * scale) + 1e-6 * np.maximum(scale, 1e-300)
    order: IntArray = np.argsort(-((high - low) / room[:, None]).max(axis=0), kind="stable")
    return order

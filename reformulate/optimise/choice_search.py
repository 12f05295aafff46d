"""Branch and bound over choices: prices prove what a part can cost, growing finds what it does cost.

Why not a general integer program, one column an option: it takes about ten times as long, and lets a
limit be missed by its tolerance of a millionth. Here rows are summed for whole choices only.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import count
from time import monotonic
from typing import Final

import numpy as np
from numpy.typing import NDArray

from reformulate.optimise.choice_bound import Prices, Relaxation
from reformulate.optimise.choice_growth import grow
from reformulate.optimise.choice_task import Task

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int_]
BoolArray = NDArray[np.bool_]

SAME: Final = 1e-9
"""Choices whose costs differ by no more than this are equally good; the one found first is taken [1]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Patience:
    """How long a search may go on."""

    until: float
    """Time of the monotonic clock [s]. One part is always looked at."""
    stop: Callable[[], bool]
    """Is asked before each part whether nobody waits any more."""
    parts: float = np.inf
    """How many parts are looked at if no choice at all is found [count]."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Found:
    """What a search found."""

    pick: IntArray | None
    """(n,) number of the option taken for each item; None if no choice was found."""
    cost: float
    """What it costs, misses included [1]; inf if no choice was found."""
    bound: float
    """No choice costs less [1]; inf if there is none."""
    stopped: bool = False
    """True where nobody waited any more."""

    @property
    def proven(self) -> bool:
        """True where no choice is cheaper, or none keeps the musts."""
        return self.bound >= self.cost - SAME


def search(task: Task, seed: IntArray | None, patience: Patience) -> Found:
    """Find the cheapest choice.

    A part of the choices is a set of open options for each item. The program's prices say what any
    choice in it costs at least; growing partial choices finds the cheapest outright where they are
    few, and a good one and a better bound where they are many. Then the part is split in two: less
    or more of one item. The part with the least bound is always next.

    Parameters
    ----------
    seed : (n,), optional
        A choice to be beaten.
    """
    relaxation, number = Relaxation(task), count()
    pick, best = None, task.dearest() * (1.0 + SAME) + 2.0 * SAME
    if seed is not None and np.isfinite(value := task.value(seed)):
        pick, best = seed, value
    waiting: list[tuple[float, int, BoolArray]] = [
        (-np.inf, 0, np.ones(len(task.cost), dtype=bool))
    ]

    def found(bound: float, *, stopped: bool = False) -> Found:
        cost = np.inf if pick is None else best
        return Found(pick=pick, cost=cost, bound=bound, stopped=stopped)

    parts = 0  # looked at so far
    while waiting:
        least, part, is_open = heappop(waiting)
        if least >= best - SAME:
            break
        if patience.stop():
            return found(least, stopped=True)
        if part and (monotonic() > patience.until or (parts >= patience.parts and pick is None)):
            return found(least)
        parts += 1
        prices = relaxation.prices(is_open)
        bound, better = max(least, prices.bound), True
        while better and bound < best - SAME:
            # Each better choice leaves fewer to grow: the last look often proves it the best.
            grown = grow(task, is_open, prices, best - SAME)
            better = grown.pick is not None
            if better:
                pick, best = grown.pick, grown.cost
            bound = max(bound, min(grown.bound, best))
        if bound < best - SAME:
            for half in _halves(task, is_open, prices, best):
                heappush(waiting, (bound, -next(number) - 1, half))
    return found(np.inf if pick is None else best)


def _halves(
    task: Task, is_open: BoolArray, prices: Prices, best: float
) -> tuple[BoolArray, BoolArray]:
    """Split the open options of the item that the program mixes most: lighter ones, heavier ones."""
    left = is_open & (prices.excess < best - prices.bound)
    share = np.where(left, prices.share, 0.0)
    mean = np.add.reduceat(task.adds * share, task.first, axis=1)[:, task.item]
    widest = np.ptp(task.adds, axis=1, keepdims=True)
    off = np.abs(task.adds - mean) * share / np.where(widest > 0.0, widest, 1.0)
    mixed = np.add.reduceat(off, task.first, axis=1).max(axis=0, initial=0.0)
    many = np.add.reduceat(left, task.first, dtype=int)
    mixed = np.where(many > 1, mixed, -1.0)
    item = int(np.argmax(mixed)) if mixed.max() > SAME else int(np.argmax(many))
    at = np.flatnonzero(left & (task.item == item))
    weight = float(share[at] @ task.grams[at]) / max(float(share[at].sum()), SAME)
    lighter = int(np.count_nonzero(task.grams[at] <= weight))
    if not 0 < lighter < len(at):
        lighter = len(at) // 2
    low, high = left.copy(), left.copy()
    low[at[lighter:]], high[at[:lighter]] = False, False
    return low, high

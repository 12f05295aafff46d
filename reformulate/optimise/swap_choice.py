"""Which swaps an answer uses: none of a little, and no more than the brief allows; MODEL.md §4."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from heapq import heappop, heappush
from itertools import count

import numpy as np
from numpy.typing import NDArray

from reformulate.optimise.closest import Found
from reformulate.optimise.model import Model

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]
Find = Callable[[Model], Found | None]

USED = 1e-9
"""Above this a swap is used [column unit]."""

SAME = 1e-9
"""Costs this near count as the same [fraction of 1 + the cost], and amounts [fraction of the least]."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Pattern:
    """Which swaps are in for sure and which may be."""

    taken: BoolArray
    """(swaps,) used at least as much as is worth while."""
    open: BoolArray
    """(swaps,) still to be decided; the rest are left out."""


def choose_swaps(model: Model, most_used: int | None, find: Find) -> Found | None:
    """Find the best amounts in which each swap is left out or used enough, and not too many are used.

    Branch and bound on the use of single swaps: a swap that is used too little, or one too many, is
    left out in one branch and taken in the other. What a branch costs before it is decided is the
    least it can cost, so that the first decided one that nothing undecided undercuts is the best.

    Parameters
    ----------
    most_used : int or None
        Most swaps used [count].
    find : callable
        Returns the best amounts under a model's bounds, None where there are none.
    """
    least = _least(model)
    pinned = model.program.column_lower[model.swap_columns] > 0.0
    none_left = most_used is not None and pinned.sum() >= most_used
    start = Pattern(taken=pinned, open=np.zeros_like(pinned) if none_left else ~pinned)
    root = find(_under(model, start, least) if none_left else model)
    if root is None or _undecided(root, start.open, least, most_used) is None:
        return root
    best: Found | None = None
    order = count()
    waiting = [(root.cost, next(order), start, root)]
    while waiting:
        _, _, pattern, found = heappop(waiting)
        if best is not None and not _better(found.cost, best.cost):
            continue  # one that dust put behind it may still be better
        swap = _undecided(found, pattern.open, least, most_used)
        if swap is None:
            best = found
            continue
        for taken in (True, False):
            branch = _branch(pattern, swap, most_used, taken=taken)
            solved = branch and find(_under(model, branch, least))
            if branch and solved and (best is None or _better(solved.cost, best.cost)):
                heappush(waiting, (solved.cost, next(order), branch, solved))
    return best


def pattern_of(model: Model, x: FloatArray) -> Pattern:
    """Return which swaps amounts (n_columns,) use, all decided."""
    used = x[model.swap_columns] > USED
    return Pattern(taken=used, open=np.zeros_like(used))


def under_pattern(model: Model, pattern: Pattern) -> Model:
    """Return the model with the bounds a pattern of swaps sets."""
    return _under(model, pattern, _least(model))


def _least(model: Model) -> FloatArray:
    """Return (swaps,) the least of each swap if it is used [column unit]."""
    lines = len(model.items.lines)
    least: FloatArray = model.items.least_used[lines:] / model.items.scale[lines:]
    return least


def _undecided(
    found: Found, may_be: BoolArray, least: FloatArray, most_used: int | None
) -> int | None:
    """Return the open swap (of those that ``may_be``) to branch on, None where the rules are kept."""
    z = found.x[found.model.swap_columns]
    used = z > USED
    loose = used & may_be
    short = np.where(loose, least - z, 0.0) / np.maximum(least, USED)
    if short.size and short.max() > SAME:
        return int(np.argmax(short))
    if most_used is not None and used.sum() > most_used and loose.any():
        return int(np.argmin(np.where(loose, z, np.inf)))
    return None


def _branch(pattern: Pattern, swap: int, most_used: int | None, *, taken: bool) -> Pattern | None:
    here = np.arange(len(pattern.taken)) == swap
    if not taken:
        return Pattern(taken=pattern.taken, open=pattern.open & ~here)
    now = pattern.taken | here
    if most_used is not None and now.sum() > most_used:
        return None
    full = most_used is not None and now.sum() == most_used
    return Pattern(taken=now, open=np.zeros_like(now) if full else pattern.open & ~here)


def _under(model: Model, pattern: Pattern, least: FloatArray) -> Model:
    """Return the model with the bounds a pattern sets."""
    lower, upper = model.program.column_lower.copy(), model.program.column_upper.copy()
    swaps = model.swap_columns
    lower[swaps] = np.where(pattern.taken, np.maximum(lower[swaps], least), lower[swaps])
    upper[swaps] = np.where(pattern.taken | pattern.open, upper[swaps], 0.0)
    return replace(model, program=replace(model.program, column_lower=lower, column_upper=upper))


def _better(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    """Return whether one list of costs comes before another, first things first, dust aside."""
    for a, b in zip(one, other, strict=True):
        if abs(a - b) > SAME * (1.0 + abs(b)):
            return a < b
    return False

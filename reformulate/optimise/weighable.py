"""Amounts a kitchen scale can weigh, near the exact ones and still within every limit."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

STEPS = ((20.0, 1.0), (2.0, 0.1), (0.0, 0.01))
"""From this mass up [g], weigh in steps of this [g]; common practice (a scale, then spoons)."""

FINER = (1.0, 0.1, 0.01, 0.001)
"""Where whole steps cannot keep every limit, tenths of them are tried, and so on [1]."""

MOST_MOVES = 12
"""Most single steps taken to win back the limits [count]; two or three are usual. With more, finer steps
are nearer."""

TOLERANCE = 1e-9
"""How far outside a limit still counts as within [scaled row unit]."""


def weighable(
    exact: FloatArray,
    original: FloatArray,
    least: FloatArray,
    most: FloatArray,
    rows: FloatArray,
    lower: FloatArray,
    upper: FloatArray,
) -> FloatArray:
    """Round grams so that every limit still holds; MODEL.md §8.

    Parameters
    ----------
    exact, original, least, most : (n,) [g]
        The optimum, the original and the limits of each item. An item that has not moved keeps
        the original's grams to the letter.
    rows : (m, n) [scaled row unit per g]
    lower, upper : (m,) [scaled row unit]

    Returns
    -------
    (n,) [g]
        Each within a few steps of ``exact``; ``exact`` itself where no rounding keeps the limits.
    """
    free = np.abs(exact - original) > 1e-6 * np.maximum(original, 1.0)
    (coarse_from, coarse), (middle_from, middle), (_, fine) = STEPS
    steps = np.where(exact >= coarse_from, coarse, np.where(exact >= middle_from, middle, fine))
    for finer in FINER:
        step = steps * finer
        low, high = np.ceil(least / step - 1e-9) * step, np.floor(most / step + 1e-9) * step
        fits = free & (low <= high)
        low, high = np.where(fits, low, least), np.where(fits, high, most)
        start = np.where(free, np.round(exact / step) * step, original)
        start = np.where(free, np.minimum(np.maximum(start, low), high), original)
        grams = _repair(start, np.where(free, step, 0.0), low, high, rows, lower, upper)
        if grams is not None:
            return np.where(free, np.round(grams, 6) + 0.0, original)  # no minus zero
    return exact


def _repair(
    grams: FloatArray,
    step: FloatArray,
    least: FloatArray,
    most: FloatArray,
    rows: FloatArray,
    lower: FloatArray,
    upper: FloatArray,
) -> FloatArray | None:
    """Move items a step up or down, one or two at a time, until every limit holds again."""
    missed = float(_missed(rows @ grams, lower, upper))
    if missed <= TOLERANCE:
        return grams
    single = np.concatenate([np.diag(step), np.diag(-step)], axis=1)[:, np.tile(step > 0, 2)]
    for _ in range(MOST_MOVES):
        best = None
        for many in (False, True) if single.size else ():
            moves = _pairs(single) if many else single
            options = np.minimum(np.maximum(grams[:, None] + moves, least[:, None]), most[:, None])
            misses = _missed(rows @ options, lower[:, None], upper[:, None])
            choice = int(np.argmin(misses))
            if misses[choice] < missed:
                best, missed = options[:, choice], float(misses[choice])
                break
        if best is None:
            return None
        if missed <= TOLERANCE:
            return best
        grams = best
    return None


def _pairs(single: FloatArray) -> FloatArray:
    first, second = np.triu_indices(single.shape[1], k=1)
    pairs: FloatArray = single[:, first] + single[:, second]
    return pairs


def _missed(activity: FloatArray, lower: FloatArray, upper: FloatArray) -> FloatArray:
    missed: FloatArray = np.maximum(np.maximum(lower - activity, activity - upper), 0.0).sum(axis=0)
    return missed

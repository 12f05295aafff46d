"""How much of a nutrient given amounts have, in the unit a goal's limits are in."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Goal, Per
from reformulate.foods import QUANTITY_INDEX
from reformulate.optimise.items import Items
from reformulate.optimise.rows import reference_per_gram, share_factor

FloatArray = NDArray[np.float64]

MET_SHARE, MET_AMOUNT = 1e-7, 1e-6
"""How far beyond a limit still counts as met [fraction of the limit], [the goal's unit], whichever is
more: a thousandth of what any scale or screen shows."""

DUST = 1e-8
"""The same beside what one item moved by its scale changes [1]: ten times the tolerance of the programs,
which counts a limit as a row whose largest coefficient is 1. A little of something very salty may be
moved by less than any program sees and still pass a low limit on sodium by a millionth."""


def level(key: str, per: Per, grams: FloatArray, items: Items, servings: float) -> float:
    """Return the level of a nutrient in ``grams`` (n,) [g], in the unit of ``per``.

    A share of nothing is 0 where there is none of the nutrient, and inf where there is some.
    """
    total = float(items.per_gram[:, QUANTITY_INDEX[key]] @ grams)
    if per is Per.SERVING:
        return total / servings
    return share(share_factor(key, per) * total, _whole(key, per, grams, items))


def _whole(key: str, per: Per, grams: FloatArray, items: Items) -> float:
    if per is Per.ORIGINAL:
        return float(items.per_gram[:, QUANTITY_INDEX[key]] @ items.original) / 100.0
    return float(reference_per_gram(per, items) @ grams)


def share(top: float, whole: float) -> float:
    """Return ``top / whole``; of nothing, 0 where there is no top and inf where there is."""
    if whole != 0.0:
        return top / whole
    return 0.0 if top == 0.0 else np.inf


def dust(key: str, per: Per, grams: FloatArray, items: Items, servings: float) -> float:
    """Return what the programs do not see of a level at ``grams``, in the unit of ``per``."""
    column = np.abs(items.per_gram[:, QUANTITY_INDEX[key]])
    largest = DUST * share_factor(key, per) * float((column * items.scale).max())
    whole = servings if per is Per.SERVING else _whole(key, per, grams, items)
    return largest / whole if whole > 0.0 else 0.0


def shortfall(goal: Goal, value: float, unseen: float) -> float:
    """Return how far a level misses a goal, headroom counted, in the goal's unit; 0 where it is met.

    ``unseen`` is the `dust` of the level.
    """
    below = goal.lowest - value if goal.lowest is not None else -np.inf
    above = value - goal.highest if goal.highest is not None else -np.inf
    missed = max(below, above)
    limit = max(goal.at_least or 0.0, goal.at_most or 0.0)
    allowance = max(MET_SHARE * limit, MET_AMOUNT, unseen)
    return missed if missed > allowance else 0.0

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
more: above the solver's tolerance, a thousandth of what any scale or screen shows."""


def level(key: str, per: Per, grams: FloatArray, items: Items, servings: float) -> float:
    """Return the level of a nutrient in ``grams`` (n,) [g], in the unit of ``per``.

    A share of nothing is 0 where there is none of the nutrient, and inf where there is some.
    """
    column = items.per_gram[:, QUANTITY_INDEX[key]]
    total = float(column @ grams)
    if per is Per.SERVING:
        return total / servings
    if per is Per.ORIGINAL:
        whole = float(column @ items.original) / 100.0
    else:
        whole = float(reference_per_gram(per, items) @ grams)
    return share(share_factor(key, per) * total, whole)


def share(top: float, whole: float) -> float:
    """Return ``top / whole``; of nothing, 0 where there is no top and inf where there is."""
    if whole != 0.0:
        return top / whole
    return 0.0 if top == 0.0 else np.inf


def shortfall(goal: Goal, value: float) -> float:
    """Return how far a level misses a goal, headroom counted, in the goal's unit; 0 where it is met."""
    below = goal.lowest - value if goal.lowest is not None else -np.inf
    above = value - goal.highest if goal.highest is not None else -np.inf
    missed = max(below, above)
    limit = max(goal.at_least or 0.0, goal.at_most or 0.0)
    allowance = max(MET_SHARE * limit, MET_AMOUNT)
    return missed if missed > allowance else 0.0

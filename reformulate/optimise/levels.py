"""How much of a nutrient given amounts have, in the unit a goal's limits are in."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Goal, Per
from reformulate.foods.nutrients import INDEX
from reformulate.optimise.items import Items
from reformulate.optimise.rows import reference_per_gram, share_factor

FloatArray = NDArray[np.float64]

MET = 1e-9
"""How far beyond a limit still counts as met [fraction of the limit]: the size of float error."""


def level(key: str, per: Per, grams: FloatArray, items: Items, servings: float) -> float:
    """Return the level of a nutrient in ``grams`` (n,) [g], in the unit of ``per``; nan for 0/0."""
    column = items.per_gram[:, INDEX[key]]
    total = float(column @ grams)
    if per is Per.SERVING:
        return total / servings
    if per is Per.ORIGINAL:
        whole = float(column @ items.original) / 100.0
    else:
        whole = float(reference_per_gram(per, items) @ grams)
    return share_factor(key, per) * total / whole if whole else np.nan


def shortfall(goal: Goal, value: float) -> float:
    """Return how far a level misses a goal, in the goal's unit; 0 where it is met."""
    below = (goal.at_least or 0.0) - value if goal.at_least is not None else -np.inf
    above = value - goal.at_most if goal.at_most is not None else -np.inf
    missed = max(below, above)
    allowance = MET * max(1.0, abs(goal.at_least or 0.0), abs(goal.at_most or 0.0))
    return missed if missed > allowance else 0.0

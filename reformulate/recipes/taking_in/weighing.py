"""What the lines of an intake weigh, as far as it is known, and how much hangs on each."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from reformulate.errors import BadInput
from reformulate.foods import INDEX, FoodTable
from reformulate.measures import MeasureSystem, parse_amount, weigh
from reformulate.recipes.taking_in.values import IntakeLine

FloatArray = NDArray[np.float64]

UNTOLD: Final = 30.0
"""Stands for a mass nobody can say yet when questions are put in order [g]; two tablespoons."""

_COUNTED: Final = ("energy_kcal", "sodium_mg")


def weighed(line: IntakeLine, foods: FoodTable, system: MeasureSystem) -> IntakeLine:
    """Return the line with its grams [g] and their route; None and "" where they cannot be said."""
    measures = foods.food(line.food).measures if line.food else ()
    if not line.amount:
        return replace(line, grams=None, route="")
    try:
        found = weigh(parse_amount(line.amount), measures, system, line.prep)
    except BadInput as error:
        return replace(line, grams=None, route=error.problems[0].what)
    return replace(line, grams=found.grams, route=found.route)


def consequences(
    lines: Sequence[IntakeLine], grams: Sequence[float], foods: FoodTable
) -> FloatArray:
    """Return (n,) the largest share of energy, sodium or mass [1] that each of n lines has.

    Parameters
    ----------
    lines : (n,) sequence of IntakeLine
    grams : (n,) sequence
        What each weighs, or may weigh [g].
    foods : FoodTable
        Unknown figures count as nothing here: only an order is wanted.
    """
    mass = np.array(grams, dtype=np.float64)
    if mass.size == 0:
        return mass
    parts = [mass]
    for key in _COUNTED:
        per_gram = [
            foods.values[foods.index(line.food), INDEX[key]] / 100.0 if line.food else 0.0
            for line in lines
        ]
        parts.append(mass * np.array(per_gram))
    shares = [part / max(float(part.sum()), 1e-9) for part in parts]
    found: FloatArray = np.max(shares, axis=0)
    return found


_BESIDE: Final = re.compile(
    r"\b(?:for|to) (?:serve|serving|dip|dipping|scooping)\b|^\W*serve with\b|\bas dippers?\b",
    re.IGNORECASE,
)


def is_beside(line: IntakeLine) -> bool:
    """Whether the line is served with the dish and has no amount of its own: chips for dipping."""
    return not line.read.amount and bool(_BESIDE.search(line.read.text))

"""What the lines of an intake weigh, as far as it is known, and how much hangs on each."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from reformulate.errors import BadInput
from reformulate.foods import INDEX, FoodTable
from reformulate.measures import MeasureSystem, parse_amount, weigh
from reformulate.recipes.matching import Consequence, consequence
from reformulate.recipes.taking_in.values import IntakeLine, Topic

UNTOLD: Final = 30.0
"""Stands for a mass nobody can say yet when questions are put in order [g]; two tablespoons."""

_BESIDE: Final = re.compile(
    r"\b(?:for|to) (?:serve|serving|dip|dipping|scooping)\b|^\W*serve with\b|\bas dippers?\b",
    re.IGNORECASE,
)


def weighed(line: IntakeLine, foods: FoodTable, system: MeasureSystem) -> IntakeLine:
    """Return the line with its grams [g] and their route; None and "" where they cannot be said.

    Where the food has no weight for the amount, the same amount in other words takes its place:
    the 60 g of "1 handful (60 g)".
    """
    measures = foods.food(line.food).measures if line.food else ()
    for amount in _amounts(line):
        try:
            found = weigh(parse_amount(amount), measures, system, line.prep)
        except BadInput:
            continue
        return replace(line, amount=amount, grams=found.grams, route=found.route)
    return replace(line, grams=None, route="")


def _amounts(line: IntakeLine) -> tuple[str, ...]:
    other = line.read.other
    if Topic.AMOUNT in line.settled or other is None:
        return (line.amount,) if line.amount else ()
    return tuple(amount for amount in (line.amount, other.amount) if amount)


def whole_of(lines: Sequence[IntakeLine], grams: Sequence[float], foods: FoodTable) -> Consequence:
    """Return what n lines of so many grams (n,) [g] have in all, as far as it is known."""
    each = [_brought(line, mass, foods) for line, mass in zip(lines, grams, strict=True)]
    return Consequence(
        energy=sum(one.energy for one in each),
        sodium=sum(one.sodium for one in each),
        mass=sum(one.mass for one in each),
    )


def share_of_line(line: IntakeLine, grams: float, foods: FoodTable, whole: Consequence) -> float:
    """Return the largest share of energy, sodium or mass [1] a line of so many grams [g] has."""
    return _brought(line, grams, foods).share_of(whole)


def share_of_food(
    line: IntakeLine, grams: float, foods: FoodTable, system: MeasureSystem, whole: Consequence
) -> float:
    """Return the share [1] that may be wrong if a line's food is taken without asking.

    Where there is no food to take it is the line's own share.
    """
    if not line.food:
        return share_of_line(line, grams, foods, whole)
    masses = [
        weighed(replace(line, food=one.food), foods, system).grams or grams
        for one in line.match.ranked
    ]
    return min(consequence(line.match, masses, foods).share_of(whole), 1.0)


def is_beside(line: IntakeLine) -> bool:
    """Whether the line is served with the dish and has no amount of its own: chips for dipping."""
    return not line.read.amount and bool(_BESIDE.search(line.read.text))


def _brought(line: IntakeLine, grams: float, foods: FoodTable) -> Consequence:
    """Return what a line brings; unknown figures count as nothing: only an order is wanted."""
    if not line.food:
        return Consequence(mass=grams)
    row = foods.values[foods.index(line.food)] * grams / 100.0
    return Consequence(
        energy=float(row[INDEX["energy_kcal"]]), sodium=float(row[INDEX["sodium_mg"]]), mass=grams
    )

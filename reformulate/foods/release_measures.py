"""Household weights of a Standard Reference release as measures of ours."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction

from reformulate.measures.measure import Measure

_UNITS = {
    "tablespoon": "tbsp",
    "tablespoons": "tbsp",
    "teaspoon": "tsp",
    "teaspoons": "tsp",
    "leaves": "leaf",
    "bunches": "bunch",
    **dict.fromkeys(("package", "packages", "packet", "pouch", "container", "bag"), "pack"),
}
"""What the releases write, where it is not our word or our word and an s."""
_OURS = frozenset(
    [
        *("cup", "tbsp", "tsp", "piece", "clove", "slice", "sprig", "leaf", "stalk", "head"),
        *("can", "jar", "pack", "stick", "fillet", "bunch", "ear", "sheet", "chip", "cracker"),
        "strip",
    ]
)
_MASSES = {"oz", "lb", "g", "grams", "gram"}  # grams already; nothing to learn
_AMOUNT = re.compile(r"\s*(\d*\.?\d+|\d+\s*/\s*\d+)\s+(.+)", re.DOTALL)
_TBSP_PER_FLUID_OUNCE = 2  # by definition


def household_measures(weights: Iterable[tuple[str, str]], *, source: str) -> tuple[Measure, ...]:
    """Return the measures that pairs of grams and wording give.

    Parameters
    ----------
    weights
        Grams [g] and what weighs them, as ``("160", "1 cup, chopped")``; blanks, ounces and
        pounds are left out. What is no unit of ours becomes a piece with the wording as its
        qualifier.
    source
        Where the figures come from.
    """
    read = (_measure(grams, wording, source) for grams, wording in weights)
    return tuple(measure for measure in read if measure is not None)


def _measure(grams: str, wording: str, source: str) -> Measure | None:
    match = _AMOUNT.fullmatch(wording)
    if match is None or not grams or float(grams) <= 0:
        return None
    amount = float(Fraction(match[1].replace(" ", "")))
    words = re.sub(r"\s+", " ", match[2]).strip().lower()
    if amount <= 0:
        return None
    each = float(grams) / amount
    if words.startswith("fl oz"):
        unit, qualifier, each = "tbsp", words.removeprefix("fl oz"), each / _TBSP_PER_FLUID_OUNCE
    else:
        first = re.match(r"[a-z]+", words)
        word = first[0] if first else ""
        if word in _MASSES:
            return None
        ours = _UNITS.get(word, word if word in _OURS else word.removesuffix("s"))
        unit = ours if ours in _OURS else "piece"
        qualifier = words.removeprefix(word) if ours in _OURS else words
    return Measure(unit=unit, grams=round(each, 3), qualifier=qualifier.strip(" ,"), source=source)

"""The amounts of an answer as a cook reads them: household measure and grams."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from reformulate.errors import BadInput
from reformulate.measures import Amount, Measure, MeasureSystem, household, parse_amount
from reformulate.optimise.answer import ItemAmount

APPROXIMATELY = "≈ "
"""Stands before a household amount that is more than 1 % from the grams beside it."""

MOST_OFF = 0.1
"""A household amount further from the grams than this says nothing a cook could use [1]."""

_COUNT: Final = re.compile(r"[0-9]+(?: [0-9]+/[0-9]+|/[0-9]+|\.[0-9]+)?")
_OF_ONE: Final = re.compile(r"(juice|zest) of one")


def grams_words(grams: float, *, beside: str = "") -> str:
    """Write a mass with as many decimals as it has, three at most.

    Beside an amount in words that says the mass exactly, such as ``8 oz``, three figures do.

    >>> grams_words(116.0), grams_words(67.5), grams_words(226.796185, beside="8 oz")
    ('116 g', '67.5 g', '226.8 g')
    """
    most = 1 if beside and grams >= 20 else 2 if beside and grams >= 2 else 3
    text = f"{grams:.{most}f}"
    return f"{text.rstrip('0').rstrip('.') if '.' in text else text} g"


def original_words(amount: ItemAmount) -> str:
    """Write a line as the recipe has it, a count of fruits with the part that is used."""
    return _with_part(amount.line.written, amount.measures) if amount.line else ""


def household_words(amount: ItemAmount, system: MeasureSystem) -> str:
    """Write the answer's mass in the measures a cook has, in the kind the line is written in.

    An amount that has not moved keeps the words of the recipe. Empty for nothing at all, and where no
    amount a cook can measure is near enough: then the grams stand alone.
    """
    line = amount.line
    if line and not amount.moved:
        return original_words(amount)
    if amount.household is not None:
        weighed = all(term.unit in ("g", "kg") for term in amount.household.amount.terms)
        return "" if weighed else _with_part(str(amount.household.amount), amount.measures)
    found = household(
        amount.after,
        amount.measures,
        system,
        like=_amount(line.amount) if line else None,
        prep=line.prep if line else "",
    )
    if found is None or all(term.unit in ("g", "kg") for term in found.amount.terms):
        return ""  # the grams beside it say it better
    if abs(found.grams - amount.after) > MOST_OFF * amount.after:
        return ""
    words = _with_part(str(found.amount), amount.measures)
    return words if found.exact else f"{APPROXIMATELY}{words}"


def _with_part(words: str, measures: tuple[Measure, ...]) -> str:
    """Write ``juice of 1 1/2`` where a bare count is of fruits whose juice is the food."""
    if not _COUNT.fullmatch(words):
        return words
    parts = (_OF_ONE.fullmatch(one.qualifier) for one in measures if one.unit == "piece")
    part = next((found[1] for found in parts if found), None)
    return f"{part} of {words}" if part else words


@lru_cache(maxsize=512)
def _amount(written: str) -> Amount | None:
    try:
        return parse_amount(written) if written else None
    except BadInput:
        return None

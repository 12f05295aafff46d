"""Household weights as the releases word them, as measures of ours."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from contextlib import suppress

from reformulate.foods.plain_text import clean
from reformulate.foods.release_measures import household_measures
from reformulate.measures.measure import Measure

_MOST_MEASURES = 40  # of one food; the longest list of a release has 20
_MOST_GRAMS = 50e3
_LONGEST = 120
_MIXED = re.compile(r"(\d+)[ -](\d+)\s*/\s*(\d+)\b")
NO_AMOUNT = "The portion does not tell of how many it is: left out."
_NO_UNIT = frozenset(["", "undetermined", "racc", "quantity not specified"])
_MASS_BESIDE = re.compile(
    r"\s*\(?\b\d[\d.]*\s*(?:g|gm|grm|grams?|ml|oz|ounces?)\b\)?", re.IGNORECASE
)


def measures_of(portions: Iterable[tuple[float, str]], source: str) -> tuple[Measure, ...]:
    """Return the measures that grams [g] and wording give, each unit and qualifier once.

    Parameters
    ----------
    portions
        Grams [g] and what weighs them, as ``(160.0, "1 cup, chopped")``. What cannot be read as an
        amount of something is left out.
    source
        Where the figures come from.
    """
    found: dict[tuple[str, str], Measure] = {}
    for grams, wording in portions:
        for measure in _measure(grams, wording, source):
            found.setdefault((measure.unit, measure.qualifier), measure)
        if len(found) >= _MOST_MEASURES:
            break
    return tuple(found.values())


def wording_of(amount: str, unit: str, modifier: str, description: str) -> str:
    """Return how one row of ``food_portion`` reads; empty where it names no household amount.

    An amount that is not told is not taken as one. Foundation foods name a unit, the older releases
    write it into the modifier, the survey foods write all of it into the description and a code
    into the modifier.
    """
    if description and not description[:9].casefold().startswith("guideline"):
        return "" if description.casefold() in _NO_UNIT else description
    if amount and unit.casefold() not in _NO_UNIT:
        return f"{amount} {unit}, {modifier}" if modifier else f"{amount} {unit}"
    if amount and not modifier.isdigit() and modifier.casefold() not in _NO_UNIT:
        return f"{amount} {modifier}"
    return ""


def serving_wording(text: str) -> str:
    """Return the household serving of a label, ``"About 2 Tbsp (30 g)"``, as ``"2 Tbsp"``."""
    bare = re.sub(r"^\s*about\s+", "", text, flags=re.IGNORECASE)
    shorter = _MASS_BESIDE.sub("", bare).strip(" ,;|")
    return shorter or bare


def _measure(grams: float, wording: str, source: str) -> tuple[Measure, ...]:
    if not 0 < grams <= _MOST_GRAMS:
        return ()
    text = _MIXED.sub(_decimal, clean(wording, _LONGEST), count=1)
    found: tuple[Measure, ...] = ()
    with suppress(ValueError, ZeroDivisionError, OverflowError):  # "1/0 cup" and the like
        found = household_measures([(repr(grams), text)], source=source)
    return tuple(
        each for each in found if math.isfinite(each.grams) and 0 < each.grams <= _MOST_GRAMS
    )


def _decimal(match: re.Match[str]) -> str:
    """``1 1/2`` as ``1.5``."""
    whole, above, below = (int(part) for part in match.groups())
    return repr(whole + above / below) if below > 0 else match[0]

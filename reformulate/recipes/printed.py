"""Figures of nutrients as recipes print them: a number, a unit, "less than"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from reformulate.foods.nutrients import KJ_PER_KCAL, nutrient
from reformulate.foods.own.stated import GRAMS_PER

_UNITS: Final = {
    "kcal": ("kcal", "cal", "cals", "calorie", "calories", "kcals", "kilocalories"),
    "kJ": ("kj", "kilojoule", "kilojoules"),
    "kg": ("kg",),
    "g": ("g", "gr", "gram", "grams", "gramme", "grammes", "gm"),
    "mg": ("mg", "milligram", "milligrams", "milligramme", "milligrammes"),
    "µg": ("µg", "μg", "ug", "mcg", "microgram", "micrograms"),
    "IU": ("iu",),
    "%": ("%", "percent"),
}
_UNIT_OF: Final = {spelling: unit for unit, spellings in _UNITS.items() for spelling in spellings}
_FIGURE: Final = re.compile(
    r"(?P<below><\s*|less than\s+|under\s+)?"
    r"(?<![\d.,])(?P<number>\d{1,3}(?:[, ]\d{3}){1,2}(?:\.\d{1,6})?|\d{1,9}(?:[.,]\d{1,6})?)(?![\d.,]*\d)"
    r"\s*(?P<unit>%|[A-Za-zµμ]+)?",
    re.IGNORECASE,
)
_THOUSANDS: Final = re.compile(r"[1-9]\d{0,2}(?:[, ]\d{3})+(?:\.\d+)?")
_IN_GRAMS: Final = {"kg": 1000.0, **GRAMS_PER}
_IN_KCAL: Final = {"kcal": 1.0, "kJ": 1 / KJ_PER_KCAL}


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure of a text."""

    value: float
    """The number as printed [in ``unit``]."""
    unit: str
    """``kcal``, ``kJ``, ``kg``, ``g``, ``mg``, ``µg``, ``IU``, ``%``; "" where none is printed."""
    below: bool
    """True where the text says "less than" the value."""
    start: int
    """Where it begins [characters]."""
    end: int
    """Where it ends, with its unit [characters]."""


def figures_in(text: str) -> Iterator[Figure]:
    """Give the figures of a text in order; a word behind a number that is no unit is not its unit."""
    for match in _FIGURE.finditer(text):
        unit = _UNIT_OF.get((match["unit"] or "").lower(), "")
        yield Figure(
            value=_number(match["number"]),
            unit=unit,
            below=bool(match["below"]),
            start=match.start(),
            end=match.end() if unit else match.end("number"),
        )


def in_our_unit(key: str, value: float, unit: str) -> float | None:
    """Return a figure in the unit of nutrient ``key``; None where the printed one does not tell."""
    ours = nutrient(key).unit
    scale = _IN_KCAL if ours == "kcal" else _IN_GRAMS
    if unit not in scale or ours not in scale:
        return None
    return value * scale[unit] / scale[ours]


def _number(text: str) -> float:
    if _THOUSANDS.fullmatch(text):
        return float(text.replace(",", "").replace(" ", ""))
    return float(text.replace(",", "."))

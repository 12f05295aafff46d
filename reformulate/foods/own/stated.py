"""What a package label or a table says of one nutrient, as printed."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from math import isfinite
from typing import Final

from reformulate.errors import BadInput, Problem
from reformulate.foods.nutrients import NUTRIENTS, Nutrient

ONLY_STATED: Final = (
    Nutrient("salt_g", "Salt", "g", 2),
    Nutrient("energy_kj", "Energy", "kJ", 0),
    Nutrient("net_carbohydrate_g", "Carbohydrate without fibre", "g", 1),
)
"""Figures that labels print and a food table does not carry: it carries what follows from them."""

STATABLE: Final = {kind.key: kind for kind in (*NUTRIENTS, *ONLY_STATED)}
"""All that a label may state, by key."""

GRAMS_PER: Final = {"g": 1.0, "mg": 1e-3, "µg": 1e-6}
"""[g] in each unit of mass a nutrient is given in."""

SPELLINGS: Final = {"ug": "µg", "mcg": "µg", "μg": "µg", "kj": "kJ", "cal": "kcal", "gram": "g"}
"""Other ways to write the units of nutrients."""

_NUMBER = r"\d{1,40}(?:[.,]\d{1,40})?"
_PRINTED = re.compile(
    rf"(?:(?P<below><|less than|under)\s*)?(?P<amount>{_NUMBER})\s*(?P<unit>[a-zµμ]+)?"
    rf"(?:\s*[(,;]\s*(?P<percent>{_NUMBER})\s*%(?:\s*dv)?\s*\)?)?"
    rf"|(?P<only>{_NUMBER})\s*%(?:\s*dv)?",
    re.IGNORECASE,
)
_LONGEST = 120


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """One figure as printed, for whatever the label's figures are for."""

    nutrient: str
    """A key of STATABLE."""
    amount: float | None = None
    """The amount [unit of the nutrient per serving or per 100 g]; None where only a share of the
    daily value is printed."""
    below: bool = False
    """Whether it says "less than" the amount."""
    percent: float | None = None
    """Share of the daily value as printed [%]; None where there is none."""

    @property
    def written(self) -> float | str:
        """The figure as a file keeps it: a number alone, or text such as ``<5`` or ``60 (4 %)``."""
        share = "" if self.percent is None else f"{plain_number(self.percent)} %"
        if self.amount is None:
            return share
        if not share and not self.below:
            return self.amount
        amount = f"{'<' if self.below else ''}{plain_number(self.amount)}"
        return f"{amount} ({share})" if share else amount

    @property
    def printed(self) -> str:
        """The figure with its unit, as a sentence has it: ``less than 5 mg (2 %)``."""
        share = "" if self.percent is None else f"{plain_number(self.percent)} % of the daily value"
        if self.amount is None:
            return share
        before = "less than " if self.below else ""
        amount = f"{before}{plain_number(self.amount)} {STATABLE[self.nutrient].unit}"
        return f"{amount} ({share})" if share else amount


def read_stated(nutrient: str, value: float | str) -> Stated:
    """Read one figure: ``4.5``, ``"<5"``, ``"less than 1 g"``, ``"4 %"``, ``"60 mg (4 %)"``.

    Parameters
    ----------
    nutrient
        A key of STATABLE.
    value
        A number [unit of the nutrient], or text; a unit in it may be another of the same kind.

    Raises
    ------
    BadInput
        The text is no such figure, or its comma may mean two things.
    """
    kind = STATABLE[nutrient]
    if not isinstance(value, str):
        return Stated(nutrient=nutrient, amount=float(value))
    text = " ".join(value[:_LONGEST].split())
    found = _PRINTED.fullmatch(text)
    if found is None:
        raise BadInput(_no_figure(kind, text))
    if any(_two_ways(found[part]) for part in ("amount", "percent", "only")):
        what = f"found “{text[:40]}”, whose comma may part thousands or decimals."
        raise BadInput(Problem(kind.spoken, what, "Write 1200 or 1.2, for example."))
    if found["only"]:
        return Stated(nutrient=nutrient, percent=_float(found["only"]))
    factor = unit_factor(found["unit"] or kind.unit, kind.unit)
    if factor is None:
        raise BadInput(_no_figure(kind, text))
    return Stated(
        nutrient=nutrient,
        amount=scaled_exactly(_float(found["amount"]), factor),
        below=bool(found["below"]),
        percent=_float(found["percent"]) if found["percent"] else None,
    )


def unit_factor(unit: str, wanted: str) -> float | None:
    """Return how many of the ``wanted`` unit one ``unit`` is; None where it cannot be said.

    >>> unit_factor("g", "mg"), unit_factor("mcg", "µg"), unit_factor("IU", "µg")
    (1000.0, 1.0, None)
    """
    unit = SPELLINGS.get(unit.lower(), unit.lower())
    if unit == wanted:
        return 1.0
    if unit in GRAMS_PER and wanted in GRAMS_PER:
        return float(f"{GRAMS_PER[unit] / GRAMS_PER[wanted]:.1e}")
    return None


def scaled_exactly(number: float, factor: float) -> float:
    """Return the product of two decimals as written: 0.07 times 1000 is 70, not 70.00000000000001."""
    return float(Decimal(repr(number)) * Decimal(repr(factor)))


def plain_number(number: float) -> str:
    """Return a number in digits, without an exponent, so that it reads as itself again.

    >>> plain_number(5.0), plain_number(0.05), plain_number(1e-7)
    ('5', '0.05', '0.0000001')
    """
    if not isfinite(number):
        return repr(number)
    text = format(Decimal(repr(float(number))), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def _two_ways(text: str | None) -> bool:
    return bool(text and re.fullmatch(r"[1-9]\d{0,2},\d{3}", text))


def _float(text: str) -> float:
    return float(text.replace(",", "."))


def _no_figure(kind: Nutrient, text: str) -> Problem:
    return Problem(
        kind.spoken,
        f"found “{text[:40]}”, expected a figure in {kind.unit}.",
        "Write it as printed: 4.5, <5, 4 %, or 60 (4 %).",
    )

"""How labels round what they declare: the rule of each nutrient, in its unit.

United States: 21 CFR 101.9(c), per serving; the same bands in 9 CFR 317.309 and in the inspection
guide's table. What the rule allows beside the usual way is a band of its own, so that undoing the
rounding leaves out nothing that may lawfully stand behind a figure. Quantities of vitamin D, iron,
calcium and potassium: guidance of 2019 to 101.9(c)(8), calcium and potassium from memory.

European Union: guidance of the Commission's services on tolerances, December 2012, section on
rounding, from memory; energy to 1 kJ and 1 kcal published.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from reformulate.foods.own.bands import Band, Bands
from reformulate.foods.own.daily_values import DAILY_VALUES


class Rounding(StrEnum):
    """By which rule declared figures were rounded."""

    US_LABEL = "us label"
    EU_LABEL = "eu label"
    NONE = "none"
    """The figures stand as they are: from a recipe or a table."""


def _nearest(step: str, low: str = "0", high: str | None = None, *, closed: bool = False) -> Band:
    end = None if high is None else Fraction(high)
    return Band(low=Fraction(low), high=end, step=Fraction(step), closed=closed)


def _zero(high: str | Fraction, *, closed: bool = False) -> Band:
    return Band(high=Fraction(high), closed=closed)


def _below(limit: str, low: str, high: str, *, closed: bool = False) -> Band:
    return Band(low=Fraction(low), high=Fraction(high), limit=Fraction(limit), closed=closed)


def _trifle(key: str) -> Fraction:
    """Below 2 % of the daily value 0 may be printed."""
    return Fraction(repr(DAILY_VALUES[key])) / 50


# (c)(1): below 5 "may" be 0, else to 5 up to and including 50, to 10 above.
_US_ENERGY: Final = (_zero("5"), _nearest("5", "0", "50", closed=True), _nearest("10", "50"))
_US_FAT: Final = (_zero("0.5"), _nearest("0.5", "0.5", "5"), _nearest("1", "5"))
_US_CHOLESTEROL: Final = (_zero("2"), _below("5", "2", "5", closed=True), _nearest("5", "2"))
_US_SODIUM: Final = (_zero("5"), _nearest("5", "5", "140", closed=True), _nearest("10", "140"))
_US_GRAMS: Final = (_zero("0.5"), _below("1", "0.5", "1"), _nearest("1", "0.5"))

_THREE_FIGURES: Final = (
    "vitamin_a_ug",
    "folate_ug",
    "calcium_mg",
    "phosphorus_mg",
    "magnesium_mg",
    "potassium_mg",
)
"""Vitamins and minerals that the EU guidance rounds to three significant figures."""
_TWO_FIGURES: Final = (
    "iron_mg",
    "zinc_mg",
    "vitamin_c_mg",
    "vitamin_d_ug",
    "vitamin_e_mg",
    "vitamin_k_ug",
    "thiamin_mg",
    "riboflavin_mg",
    "niacin_mg",
    "vitamin_b6_mg",
    "vitamin_b12_ug",
)
"""Those that it rounds to two."""

US_LABEL: Final[Mapping[str, Bands]] = MappingProxyType(
    {
        "energy_kcal": _US_ENERGY,
        **dict.fromkeys(
            ("fat_g", "saturated_g", "monounsaturated_g", "polyunsaturated_g"), _US_FAT
        ),
        "cholesterol_mg": _US_CHOLESTEROL,
        "sodium_mg": _US_SODIUM,
        **dict.fromkeys(
            ("carbohydrate_g", "fibre_g", "sugars_g", "added_sugars_g", "protein_g"), _US_GRAMS
        ),
        # Of most only what may be printed as 0 is known; other figures count to their last digit.
        **{key: (_zero(_trifle(key)),) for key in (*_TWO_FIGURES, *_THREE_FIGURES)},
        **{key: (_nearest("0.1"), _zero(_trifle(key))) for key in ("vitamin_d_ug", "iron_mg")},
        **{key: (_nearest("10"), _zero(_trifle(key))) for key in ("calcium_mg", "potassium_mg")},
    }
)
"""Bands by nutrient [unit of the nutrient per serving]."""


def _eu_grams(trifle: str) -> Bands:
    """Up to a trifle 0 or less than it, to 0.1 below 10, to 1 above."""
    return (
        _zero(trifle, closed=True),
        _below(trifle, "0", trifle, closed=True),
        _nearest("0.1", trifle, "10"),
        _nearest("1", "10"),
    )


_EU_ENERGY: Final = (_nearest("1"),)
_EU_SALT: Final = (
    _zero("0.0125", closed=True),
    _below("0.01", "0", "0.0125", closed=True),
    _nearest("0.01", "0.0125", "1"),
    _nearest("0.1", "1"),
)
_EU_SODIUM: Final = (
    _zero("5", closed=True),
    _nearest("10", "5", "1000"),
    _nearest("100", "1000"),
)


def _significant(figures: int) -> Bands:
    """Bands of ten to ten, each to so many significant figures."""
    tens = [Fraction(10) ** power for power in range(-6, 7)]
    return tuple(Band(low=ten, high=10 * ten, step=10 * ten / 10**figures) for ten in tens)


EU_LABEL: Final[Mapping[str, Bands]] = MappingProxyType(
    {
        **dict.fromkeys(("energy_kcal", "energy_kj"), _EU_ENERGY),
        **dict.fromkeys(
            (
                "fat_g",
                "carbohydrate_g",
                "net_carbohydrate_g",
                "sugars_g",
                "added_sugars_g",
                "fibre_g",
                "protein_g",
            ),
            _eu_grams("0.5"),
        ),
        **dict.fromkeys(
            ("saturated_g", "monounsaturated_g", "polyunsaturated_g"), _eu_grams("0.1")
        ),
        "salt_g": _EU_SALT,
        "sodium_mg": _EU_SODIUM,
        **dict.fromkeys(_THREE_FIGURES, _significant(3)),
        **dict.fromkeys(_TWO_FIGURES, _significant(2)),
    }
)
"""Bands by nutrient [unit of the nutrient per 100 g]."""

SERVING_MASS: Final = (
    _nearest("0.1", "0", "2"),
    _nearest("0.5", "2", "5"),
    _nearest("1", "5"),
)
"""The mass of a serving in brackets [g]; source: 21 CFR 101.9(b), as in 9 CFR 317.309(b)."""

_RULES: Final = {Rounding.US_LABEL: US_LABEL, Rounding.EU_LABEL: EU_LABEL}


def bands_of(rounding: Rounding, nutrient: str) -> Bands:
    """Return the bands of a nutrient by a rule; none where the rule has none for it."""
    rule = _RULES.get(rounding)
    return () if rule is None else rule.get(nutrient, ())

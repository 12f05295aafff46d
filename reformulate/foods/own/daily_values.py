"""Daily values, and what a printed share of one may stand for."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from reformulate.foods.own.bands import (
    Band,
    Bands,
    Range,
    as_printed,
    by_last_digit,
    printed_between,
    undone,
)

DAILY_VALUES: Final[Mapping[str, float]] = MappingProxyType(
    {
        "fat_g": 78.0,
        "saturated_g": 20.0,
        "cholesterol_mg": 300.0,
        "carbohydrate_g": 275.0,
        "fibre_g": 28.0,
        "added_sugars_g": 50.0,
        "sodium_mg": 2300.0,
        "potassium_mg": 4700.0,
        "calcium_mg": 1300.0,
        "iron_mg": 18.0,
        "magnesium_mg": 420.0,
        "phosphorus_mg": 1250.0,
        "zinc_mg": 11.0,
        "vitamin_a_ug": 900.0,
        "vitamin_c_mg": 90.0,
        "vitamin_d_ug": 20.0,
        "vitamin_e_mg": 15.0,
        "vitamin_k_ug": 120.0,
        "thiamin_mg": 1.2,
        "riboflavin_mg": 1.3,
        "niacin_mg": 16.0,
        "vitamin_b6_mg": 1.7,
        "vitamin_b12_ug": 2.4,
        "folate_ug": 400.0,
    }
)
"""Daily values for adults and children of four years or more [unit of the nutrient].

Source: 21 CFR 101.9(c)(8)(iv) and (c)(9), rule of 2016. Protein is left out: its share is of
protein corrected for quality, which does not tell the grams.
"""

# 101.9(d)(7)(ii): the share of these is to 1 %; of vitamins and minerals by (c)(8)(iii).
_TO_ONE: Final = frozenset(
    ("fat_g", "saturated_g", "cholesterol_mg", "carbohydrate_g", "fibre_g", "added_sugars_g")
) | {"sodium_mg"}
_NEAREST_PERCENT: Final = (Band(step=Fraction(1)),)
_VITAMIN_PERCENT: Final = (
    Band(high=Fraction(2)),
    Band(low=Fraction(1), high=Fraction(10), closed=True, step=Fraction(2)),
    Band(low=Fraction(10), high=Fraction(50), closed=True, step=Fraction(5)),
    Band(low=Fraction(50), step=Fraction(10)),
)
"""Below 2 %: 0, or 2 where it is 1 or more; to 2 up to 10, to 5 up to 50, to 10 above [%]. The
upper bands from memory."""


def percent_bands(nutrient: str) -> Bands:
    """Return how a share of the daily value of a nutrient is rounded [%]."""
    return _NEAREST_PERCENT if nutrient in _TO_ONE else _VITAMIN_PERCENT


def behind_percent(nutrient: str, percent: float, amounts: Bands) -> Range:
    """Return the amounts that a printed share of the daily value may stand for.

    Parameters
    ----------
    nutrient
        A key of DAILY_VALUES.
    percent
        As printed [%].
    amounts
        How the amount itself is rounded: the share may be worked out from the amount as it is or
        as it is printed.

    Returns
    -------
    Range
        [unit of the nutrient].
    """
    shares = undone(percent_bands(nutrient), percent) or by_last_digit(percent)
    one_percent = as_printed(DAILY_VALUES[nutrient]) / 100
    # In fractions: an end must not slip past the amount that lies on it.
    low, high = (float(Fraction(share) * one_percent) for share in shares)
    found = [Range(low, high)]
    for printed in printed_between(amounts, low, high):
        behind = undone(amounts, printed)
        if behind is not None:
            found.append(behind)
    return Range(min(each.low for each in found), max(each.high for each in found))

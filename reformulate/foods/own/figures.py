"""What is known of each nutrient from what is printed: the figure used, and its range."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from reformulate.foods.nutrients import INDEX, KJ_PER_KCAL, NUTRIENTS, nutrient
from reformulate.foods.own.bands import Range, by_last_digit, undone
from reformulate.foods.own.daily_values import DAILY_VALUES, behind_percent
from reformulate.foods.own.label_rounding import Rounding, bands_of
from reformulate.foods.own.stated import GRAMS_PER, Stated

SODIUM_PER_SALT: Final = 400.0
"""Sodium [mg] per declared salt [g]: salt is sodium times 2.5; Regulation (EU) 1169/2011, Annex I."""

KJ_PER_KCAL_OF_PARTS: Final = Range(8 / 2, 13 / 3)
"""The same for what energy is counted from, least for fibre, greatest for organic acids [kJ/kcal];
Regulation (EU) 1169/2011, Annex XIV."""

MOST_ENERGY: Final = 9.02
"""Energy of a gram of fat at its highest factor [kcal/g]; Agriculture Handbook 74, from memory."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """The amount of one nutrient, and between which amounts the true one lies."""

    nutrient: str
    value: float
    """The figure used [unit of the nutrient, per serving or per 100 g]."""
    low: float
    """Least amount that may have been printed so [same unit]."""
    high: float
    """Greatest amount that may have been printed so [same unit]."""
    printed: str
    """What stands behind it, in words: ``4.5 g``, ``less than 1 g``, ``salt 0.8 g``."""

    @property
    def certain(self) -> bool:
        """Whether there is no range."""
        return self.low == self.high


def figures_of(stated: Sequence[Stated], rounding: Rounding, mass: Range) -> tuple[Figure, ...]:
    """Return what is known of each nutrient, in the order of NUTRIENTS; the rest is unknown.

    A declared amount is the figure used, for a share of the daily value alone that share; "less
    than" stands for the middle of its range. Sodium follows from salt, energy from kilojoules,
    carbohydrate from carbohydrate without fibre and fibre, each only where it is not stated itself.

    Parameters
    ----------
    stated
        What is printed, sound by `own_food_problems`.
    rounding
        The rule it was rounded by.
    mass
        Least and greatest mass of what the figures are for [g]: no part is heavier.

    Returns
    -------
    tuple of Figure
        For the same mass as ``stated``.
    """
    found = {each.nutrient: _figure(each, rounding) for each in stated}
    for key, follows in _FOLLOWS:
        if key not in found and (figure := follows(found)) is not None:
            found[key] = figure
    ours = sorted((key for key in found if key in INDEX), key=INDEX.__getitem__)
    return tuple(_within(found[key], mass.high) for key in ours)


def scaled(figures: Sequence[Figure], factor: float, least: float, most: float) -> list[Figure]:
    """Return figures for another mass.

    Parameters
    ----------
    figures
        n figures.
    factor, least, most
        By what the figure used, the low and the high end are multiplied [-].
    """
    return [
        replace(each, value=each.value * factor, low=each.low * least, high=each.high * most)
        for each in figures
    ]


def per_hundred_grams(figures: Sequence[Figure], grams: float, mass: Range) -> tuple[Figure, ...]:
    """Return figures for 100 g, given those for ``grams`` [g], in truth any mass in ``mass`` [g]."""
    factors = 100.0 / grams, 100.0 / mass.high, 100.0 / mass.low
    return tuple(_within(each, 100.0) for each in scaled(figures, *factors))


def most_in(key: str, grams: float) -> float:
    """Return the most of a nutrient that so many grams [g] can hold [unit of the nutrient]."""
    if key == "energy_kcal":
        return MOST_ENERGY * grams
    if key == "energy_kj":
        return MOST_ENERGY * KJ_PER_KCAL_OF_PARTS.high * grams
    unit = nutrient(key).unit if key in INDEX else "g"
    return grams / GRAMS_PER[unit]


def range_behind(stated: Stated, rounding: Rounding) -> Range:
    """Return the amounts that one printed figure may stand for, whatever the mass of the food.

    A figure that the rule never prints counts as rounded to its last digit.
    """
    amount, bands = stated.amount, bands_of(rounding, stated.nutrient)
    if amount is None:
        return behind_percent(stated.nutrient, stated.percent or 0.0, bands)
    if rounding is Rounding.NONE:
        return Range(0.0 if stated.below else amount, amount)
    found = undone(bands, amount, below=stated.below)
    return found or (Range(0.0, amount) if stated.below else by_last_digit(amount))


def _figure(stated: Stated, rounding: Rounding) -> Figure:
    found = range_behind(stated, rounding)
    if stated.below:
        value = (found.low + found.high) / 2.0
    elif stated.amount is not None:
        value = stated.amount
    else:
        value = (stated.percent or 0.0) * DAILY_VALUES[stated.nutrient] / 100.0
    return Figure(
        nutrient=stated.nutrient,
        value=value,
        low=found.low,
        high=found.high,
        printed=stated.printed,
    )


def _within(figure: Figure, grams: float) -> Figure:
    high = min(figure.high, max(most_in(figure.nutrient, grams), figure.low))
    return replace(figure, high=high, value=min(max(figure.value, figure.low), high))


Found = dict[str, Figure]


def _sodium(found: Found) -> Figure | None:
    salt = found.get("salt_g")
    if salt is None:
        return None
    factors = (SODIUM_PER_SALT,) * 3
    return replace(
        scaled([salt], *factors)[0], nutrient="sodium_mg", printed=f"salt {salt.printed}"
    )


def _energy(found: Found) -> Figure | None:
    energy = found.get("energy_kj")
    if energy is None:
        return None
    factors = 1 / KJ_PER_KCAL, 1 / KJ_PER_KCAL_OF_PARTS.high, 1 / KJ_PER_KCAL_OF_PARTS.low
    return replace(scaled([energy], *factors)[0], nutrient="energy_kcal")


def _carbohydrate(found: Found) -> Figure | None:
    net, fibre = found.get("net_carbohydrate_g"), found.get("fibre_g")
    if net is None or fibre is None:
        return None
    return Figure(
        nutrient="carbohydrate_g",
        value=net.value + fibre.value,
        low=net.low + fibre.low,
        high=net.high + fibre.high,
        printed=f"{net.printed} and {fibre.printed} of fibre",
    )


_FOLLOWS: Final[tuple[tuple[str, Callable[[Found], Figure | None]], ...]] = (
    ("sodium_mg", _sodium),
    ("energy_kcal", _energy),
    ("carbohydrate_g", _carbohydrate),
)


def range_words(figure: Figure) -> str:
    """Return a figure with its range: ``4.5 g (4.25 to 4.75 g)``; the figure alone where certain."""
    kind = NUTRIENTS[INDEX[figure.nutrient]]
    value, low, high = (_short(x) for x in (figure.value, figure.low, figure.high))
    used = f"{value} {kind.unit}"
    return used if low == high else f"{used} ({low} to {high} {kind.unit})"


def _short(number: float) -> str:
    """Return three significant digits, of whole numbers all."""
    return f"{number:.0f}" if abs(number) >= 100 else f"{number:.3g}"

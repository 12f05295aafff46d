"""What must be put right in an own food before it can be used."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from math import isfinite
from typing import Final

from reformulate.errors import BadInput, Problem
from reformulate.foods.own.daily_values import DAILY_VALUES
from reformulate.foods.own.figures import most_in, range_behind
from reformulate.foods.own.food import Basis, OwnFood
from reformulate.foods.own.keys import is_own_key, own_key
from reformulate.foods.own.label_rounding import Rounding
from reformulate.foods.own.stated import STATABLE, Stated, plain_number
from reformulate.measures import canonical_unit, parse_amount

LIGHTEST: Final = 0.01
"""Least that is taken for the mass of a serving or a measure [g]."""

HEAVIEST: Final = 1e5
"""Most that is taken for the mass of a serving or a measure [g]."""

MOST_PERCENT: Final = 1e4
"""Most that is taken for a share of the daily value [%]."""


def own_food_problems(food: OwnFood) -> Iterator[Problem]:
    """Yield what must be put right in a food: key, name, serving, measures, figures.

    What is only unlikely, or does not agree with itself, is found by `own_food_findings`.
    """
    if not is_own_key(food.key):
        yield Problem(
            "key",
            f"found “{food.key[:40]}”, expected own: and small words joined by hyphens.",
            f"Write {own_key(food.key.removeprefix('own:'))}, for example.",
        )
    if not food.name.strip():
        yield Problem("name", "is empty.", "Write what the food is called.")
    yield from _serving_problems(food)
    yield from _measure_problems(food)
    for nutrient, times in Counter(each.nutrient for each in food.stated).items():
        if times > 1:
            yield Problem(_spoken(nutrient), f"is stated {times} times.", "Keep one of them.")
    for stated in food.stated:
        yield from stated_problems(stated, food)


def stated_problems(stated: Stated, food: OwnFood) -> Iterator[Problem]:
    """Yield what is wrong with one figure of a food."""
    where = _spoken(stated.nutrient)
    if stated.nutrient not in STATABLE:
        yield Problem(where, "is no nutrient of ours.", f"Use one of: {', '.join(STATABLE)}.")
        return
    if stated.amount is None and stated.percent is None:
        yield Problem(where, "is stated without a figure.", "Leave it out where it is unknown.")
    yield from _amount_problems(stated, food, where)
    if stated.percent is not None:
        yield from _percent_problems(stated, food, where)


def _amount_problems(stated: Stated, food: OwnFood, where: str) -> Iterator[Problem]:
    amount, unit = stated.amount, STATABLE[stated.nutrient].unit
    if amount is None:
        return
    if not isfinite(amount) or amount < 0.0 or (stated.below and amount == 0.0):
        least = "more than 0" if stated.below else "0 or more"
        yield Problem(where, f"found {amount:g}, expected {least}.", "Write it as printed.")
        return
    if food.per is Basis.SERVING and not _sound(food.mass):
        return  # The serving is blamed already.
    most = most_in(stated.nutrient, food.mass_range.high)
    if range_behind(stated, food.rounding).low > most:
        yield Problem(
            where,
            f"found {plain_number(amount)} {unit} in {food.mass:g} g of food, where at most "
            f"{most:.4g} {unit} can be.",
            "Check the figure, its unit, and how much it is for.",
        )


def _percent_problems(stated: Stated, food: OwnFood, where: str) -> Iterator[Problem]:
    percent = stated.percent
    if percent is None or not (isfinite(percent) and 0.0 <= percent <= MOST_PERCENT):
        yield Problem(where, f"found {percent} %, expected 0 or more.", "Write it as printed.")
    elif food.rounding is not Rounding.US_LABEL:
        yield Problem(
            where,
            f"found {percent:g} %, a share of the daily value, on what is no US label.",
            "Write the amount alone.",
        )
    elif stated.amount is None and stated.nutrient not in DAILY_VALUES:
        yield Problem(
            where,
            f"found {percent:g} %, from which no amount follows.",
            "Write the amount, or leave it out.",
        )


def _serving_problems(food: OwnFood) -> Iterator[Problem]:
    grams = food.serving_grams
    if grams is None:
        if food.per is Basis.SERVING:
            what = "is missing; the figures are for a serving."
            yield Problem("serving_grams", what, "Write the mass of a serving in grams.")
        elif food.serving:
            what = "is missing beside the serving."
            yield Problem("serving_grams", what, "Write the mass of a serving in grams.")
    elif not _sound(grams):
        yield Problem("serving_grams", _found(grams), "Write the mass in grams.")
    if food.serving:
        try:
            parse_amount(food.serving)
        except BadInput as error:
            for problem in error.problems:
                yield Problem("serving", f"{problem.where}: {problem.what}", problem.fix)


def _measure_problems(food: OwnFood) -> Iterator[Problem]:
    for number, measure in enumerate(food.measures, start=1):
        if canonical_unit(measure.unit) != measure.unit:
            yield Problem(
                f"measure {number}, unit",
                f"found “{measure.unit[:40]}”, expected a unit of amounts.",
                "Write one such as cup, tbsp, piece or pack.",
            )
        if not _sound(measure.grams):
            yield Problem(
                f"measure {number}, grams", _found(measure.grams), "Write the mass in grams."
            )


def _sound(grams: float) -> bool:
    return isfinite(grams) and LIGHTEST <= grams <= HEAVIEST


def _found(grams: float) -> str:
    return f"found {grams:g}, expected {LIGHTEST:g} or more, up to {HEAVIEST:.0f}."


def _spoken(nutrient: str) -> str:
    return STATABLE[nutrient].spoken if nutrient in STATABLE else f"“{nutrient[:40]}”"

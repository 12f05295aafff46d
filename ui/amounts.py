"""Amounts as the recipe table and the state line write them."""

from __future__ import annotations

from functools import lru_cache

from reformulate import Amount, BadInput, ItemAmount, MeasureSystem, household, parse_amount
from reformulate import Food

APPROXIMATELY = "≈ "


def grams_words(grams: float) -> str:
    """Write a mass the way a scale shows it."""
    decimals = 0 if grams >= 20 else 1 if grams >= 2 else 2
    text = f"{grams:.{decimals}f}"
    if abs(float(text) - grams) > 1e-6 * max(1.0, grams):
        text = f"{grams:.{decimals + 1}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"{text} g"


def household_words(
    grams: float, food: Food, system: MeasureSystem, written: str = "", prep: str = ""
) -> str:
    """Write a mass in the measures a cook has; an approximate amount says so."""
    found = household(grams, food.measures, system, like=_amount(written), prep=prep)
    if found is None:
        return ""
    words = str(found.amount)
    return words if found.exact else APPROXIMATELY + words


def before_words(amount: ItemAmount) -> str:
    """Write what the original has: as written, with grams beside it unless it is grams."""
    if amount.line is None:
        return ""
    written = amount.line.written
    return written if written.endswith(" g") else f"{written} · {grams_words(amount.before)}"


def after_words(amount: ItemAmount, food: Food, system: MeasureSystem) -> str:
    """Write what the answer has: household amount and grams."""
    if amount.after <= 0.0:
        return "–"
    if amount.line and not amount.moved:
        return before_words(amount)
    written = amount.line.written if amount.line else ""
    prep = amount.line.prep if amount.line else ""
    words = household_words(amount.after, food, system, written, prep)
    grams = grams_words(amount.after)
    return grams if not words or words == grams else f"{words} · {grams}"


@lru_cache(maxsize=512)
def _amount(written: str) -> Amount | None:
    try:
        return parse_amount(written) if written else None
    except BadInput:
        return None

"""The two lines of an amount in the recipe table: household measure, then grams."""

from __future__ import annotations

from reformulate import ItemAmount, MeasureSystem, grams_words, household_words, original_words

NOTHING = "–"


def before_lines(amount: ItemAmount) -> tuple[str, str]:
    """Return what the original has: as written, with grams below unless it is grams."""
    if amount.line is None:
        return "", ""
    words = original_words(amount)
    return _lines(words, grams_words(amount.before, beside=words))


def after_lines(amount: ItemAmount, system: MeasureSystem) -> tuple[str, str]:
    """Return what the answer has."""
    if amount.after <= 0.0:
        return NOTHING, ""
    words = household_words(amount, system)
    said = amount.household is not None or (amount.line is not None and not amount.moved)
    return _lines(words, grams_words(amount.after, beside=words if said else ""))


def _lines(words: str, grams: str) -> tuple[str, str]:
    return (words, "" if words == grams else grams) if words else (grams, "")

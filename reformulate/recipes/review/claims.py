"""Nutrients printed in the source that the amounts do not come to."""

from __future__ import annotations

from collections.abc import Iterator
from statistics import median
from typing import Final

from reformulate.foods.nutrients import INDEX, KJ_PER_KCAL, nutrient
from reformulate.foods.own.bands import by_last_digit, undone
from reformulate.foods.own.label_rounding import Rounding, bands_of
from reformulate.recipes.review.context import Context
from reformulate.recipes.review.fixes import DropClaims, SetServings
from reformulate.recipes.review.values import Finding, Fix, Kind

TOLERANCE: Final = 0.20
"""How far a printed figure may lie from the computed one [fraction of the printed]; the share that
21 CFR 101.9(g) allows a label."""
_SAME: Final = 0.10
"""Figures within this of one factor are off by that factor [fraction]."""
_SLIPS: Final = (
    ("energy_kcal", KJ_PER_KCAL, "in kilojoules"),
    ("sodium_mg", 1 / 1000, "in grams"),
    ("sodium_mg", 1 / 400, "in grams of salt"),
    ("sodium_mg", 2.5, "in milligrams of salt"),
)
"""Printed over computed where another unit was meant [1]; salt is 2.5 times sodium: EU 1169/2011."""
_FEWEST: Final = 3


def printed_range(key: str, value: float) -> tuple[float, float]:
    """Return between which amounts [unit of the nutrient] a printed figure may lie by rounding.

    By the US label rule where it prints such a figure, and by its last digit: the wider.
    """
    digits = by_last_digit(value)
    rule = undone(bands_of(Rounding.US_LABEL, key), value) or digits
    return min(rule.low, digits.low), max(rule.high, digits.high)


def find_wrong_claims(context: Context) -> Iterator[Finding]:
    """Find printed figures that the amounts do not come to, and what they have in common."""
    off = {key: times for key in context.claims if (times := _times(key, context)) is not None}
    shared = _shared_factor(off, context)
    if shared is not None:
        yield _all_off(shared, off, context)
        return
    for key, times in off.items():
        yield _one_off(key, times, context)


def _times(key: str, context: Context) -> float | None:
    """Return the computed over the printed figure where they disagree; None where they agree."""
    printed = context.claims[key]
    computed = float(context.nutrition.per_serving[INDEX[key]])
    low, high = printed_range(key, printed)
    low, high = min(low, printed * (1 - TOLERANCE)), max(high, printed * (1 + TOLERANCE))
    if low <= computed <= high:
        return None
    # Unknown foods may make up what is missing.
    if computed < low and context.nutrition.at_least[INDEX[key]]:
        return None
    return computed / printed if printed > 0 else float("inf")


def _shared_factor(off: dict[str, float], context: Context) -> float | None:
    """Return the factor by which all figures are off; None where there is none."""
    factors = [
        float(context.nutrition.per_serving[INDEX[key]]) / printed
        for key, printed in context.claims.items()
        if printed > 0 and not context.nutrition.at_least[INDEX[key]] and _is_fine(key, printed)
    ]
    if len(off) < _FEWEST or len(factors) < _FEWEST:
        return None
    middle = median(factors)
    if middle <= 0 or not all(abs(factor / middle - 1) <= _SAME for factor in factors):
        return None
    return middle


def _is_fine(key: str, printed: float) -> bool:
    """Whether a printed figure is fine enough to tell a factor."""
    low, high = printed_range(key, printed)
    return high - low <= 2 * _SAME * printed


def _all_off(factor: float, off: dict[str, float], context: Context) -> Finding:
    servings = context.recipe.servings
    portion = context.nutrition.finished_grams / servings
    meant, fix = _meaning(factor, servings, portion)
    return Finding(
        kind=Kind.CLAIM,
        where="",
        what=f"All printed nutrients are {1 / factor:.2g} times what a serving comes to{meant}.",
        why=f"Printed and computed may lie {TOLERANCE:.0%} apart, or the rounding of a label. ".replace(
            "%", " %"
        )
        + "Check for how much the source prints them, and print what the amounts come to.",
        confidence=0.9,
        gravity=0.9,
        fix=fix or _dropped(tuple(off), context),
    )


def _meaning(factor: float, servings: float, portion: float) -> tuple[str, Fix | None]:
    if portion > 0 and abs(factor * 100 / portion - 1) <= _SAME:
        return ", as if they were for 100 g", None
    if abs(factor * servings - 1) <= _SAME:
        return ", as if they were for the whole batch", None
    meant = round(servings * factor)
    if meant < 1 or meant == servings:
        return "", None
    words = f", as if the batch served {meant} rather than {servings:g}"
    return words, Fix(words=f"Make it {meant} servings", apply=SetServings(servings=float(meant)))


def _one_off(key: str, times: float, context: Context) -> Finding:
    kind, printed = nutrient(key), context.claims[key]
    computed = float(context.nutrition.per_serving[INDEX[key]])
    least = "at least " if context.nutrition.at_least[INDEX[key]] else ""
    more = computed > printed
    gap = abs(computed - printed) / max(computed, printed)
    side = "too low" if more else "too high"
    # By what it should be: twice as much is 100 % too high, half as much 50 % too low.
    share = f"{abs(printed / computed - 1):.0%} ".replace("%", " %") if computed > 0.0 else ""
    return Finding(
        kind=Kind.CLAIM,
        where="",
        what=f"{kind.name}: {printed:g} {kind.unit} a serving is printed, and the amounts come to "
        f"{least}{computed:.{kind.decimals}f} {kind.unit}; the printed figure is {share}{side}"
        f"{_slip(key, times)}.",
        why=f"Up to {TOLERANCE * 100:.0f} % of the printed figure, or the rounding of a label, is let "
        "pass. Check the amounts and the servings; print what the amounts come to.",
        confidence=0.9 if gap > 2 * TOLERANCE else 0.75,
        gravity=max(0.3, min(1.0, gap)),
        fix=_dropped((key,), context),
    )


def _slip(key: str, times: float) -> str:
    if times <= 0 or times == float("inf"):
        return ""
    for slip_key, ratio, words in _SLIPS:
        if slip_key == key and abs(ratio * times - 1) <= _SAME:
            return f", as if it were {words}"
    return ""


def _dropped(keys: tuple[str, ...], context: Context) -> Fix | None:
    """Offer to leave out printed figures that the recipe carries."""
    carried = {key for key, _ in context.recipe.claims}
    if not carried.issuperset(keys):
        return None
    words = "Leave out the printed figure" if len(keys) == 1 else "Leave out the printed figures"
    return Fix(words=words, apply=DropClaims(nutrients=keys))

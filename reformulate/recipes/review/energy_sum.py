"""Printed energy that is not the sum of the printed protein, carbohydrate and fat."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from reformulate.foods.nutrients import INDEX
from reformulate.recipes.nutrition import GENERAL_FACTORS
from reformulate.recipes.review.claims import printed_range
from reformulate.recipes.review.context import Context
from reformulate.recipes.review.fixes import DropClaims
from reformulate.recipes.review.values import Finding, Fix, Kind

TOLERANCE: Final = 0.20
"""How far energy may lie from the sum beyond rounding [fraction]: specific factors of vegetables give
a tenth to a fifth less, 21 CFR 101.9(c)(1)(i) and Agriculture Handbook 74."""
_FIBRE: Final = 4.0
"""What energy may leave out of carbohydrate for each gram of fibre [kcal/g]."""
_FIBRE_APART: Final = 2.0
"""What fibre adds where carbohydrate is printed without it [kcal/g]; EU 1169/2011, Annex XIV."""


def find_wrong_sum(context: Context) -> Iterator[Finding]:
    """Find a nutrient line that is not true to itself."""
    claims = context.claims
    if "energy_kcal" not in claims or any(key not in claims for key, _ in GENERAL_FACTORS):
        return
    printed = claims["energy_kcal"]
    usual = sum(factor * claims[key] for key, factor in GENERAL_FACTORS)
    ends = [(factor, printed_range(key, claims[key])) for key, factor in GENERAL_FACTORS]
    fibre = printed_range("fibre_g", claims["fibre_g"])[1] if "fibre_g" in claims else 0.0
    low = sum(factor * end[0] for factor, end in ends) - _FIBRE * fibre
    high = sum(factor * end[1] for factor, end in ends) + _FIBRE_APART * fibre + _alcohol(context)
    least, most = printed_range("energy_kcal", printed)
    if most >= low * (1 - TOLERANCE) and least <= high * (1 + TOLERANCE):
        return
    side = "higher" if printed > usual else "lower"
    terms = " + ".join(f"{factor:g} × {claims[key]:g}" for key, factor in GENERAL_FACTORS)
    carried = "energy_kcal" in dict(context.recipe.claims)
    yield Finding(
        kind=Kind.SUM,
        where="",
        what=f"{printed:g} kcal a serving is printed, {side} than the sum of what is printed beside "
        f"it: {terms} = {usual:.0f} kcal.",
        why=f"Protein and carbohydrate give 4 kcal a gram, fat 9; rounding and {TOLERANCE * 100:.0f} % "
        "are let pass. One of the four is wrong: print what the amounts come to.",
        confidence=0.9,
        gravity=0.6,
        fix=Fix(words="Leave out the printed energy", apply=DropClaims(nutrients=("energy_kcal",)))
        if carried
        else None,
    )


def _alcohol(context: Context) -> float:
    """Return energy of drinks beyond their protein, carbohydrate and fat [kcal per serving]."""
    total = 0.0
    for grams, item in zip(context.batch.grams, context.batch.ingredients, strict=True):
        if item.food.group == "Drinks and liquids" or "extract" in item.food.name:
            own = float(item.per_gram[INDEX["energy_kcal"]])
            others = sum(
                factor * float(item.per_gram[INDEX[key]]) for key, factor in GENERAL_FACTORS
            )
            total += float(grams) * max(0.0, own - others)
    return total / context.recipe.servings

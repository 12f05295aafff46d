"""Servings that make no portion of a dip."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from reformulate.recipes.reading.word_sets import word_set
from reformulate.recipes.review.context import Context
from reformulate.recipes.review.fixes import SetServings
from reformulate.recipes.review.values import Finding, Fix, Kind
from reformulate.recipes.review.words import grams_words

REFERENCE: Final = 30.0
"""What is customarily eaten of a dip: 2 tablespoons, 21 CFR 101.12(b) table 2; about 30 g at the
usual density of a dip, common practice [g]."""
LEAST: Final = 15.0
"""Below half the reference amount it is a taste [g]."""
MOST: Final = 150.0
"""Above five times the reference amount, two thirds of a cup, it is a meal [g]."""
_FAR: Final = 1.6
"""Beyond either end by this factor a finding is sure [1]."""
_USUAL: Final = 2 * REFERENCE
"""A generous portion, which a fix makes [g]."""
_DIPS: Final = word_set(
    "dip dips spread spreads hummus houmous salsa guacamole tzatziki pesto tapenade pâté pate rillettes "
    "queso cheese ganoush baba muhammara labneh raita chutney relish mousse"
)


def find_portion(context: Context) -> Iterator[Finding]:
    """Find a batch shared among too many or too few."""
    servings = context.recipe.servings
    grams = context.nutrition.finished_grams
    portion = grams / servings
    if LEAST <= portion <= MOST or grams <= 0:
        return
    beyond = max(portion / MOST, LEAST / portion) if portion > 0 else _FAR
    likely = 0.9 if beyond >= _FAR else 0.7
    is_dip = bool(context.title_words & _DIPS)
    better = max(1, round(grams / _USUAL))
    yield Finding(
        kind=Kind.PORTION,
        where="",
        what=f"{servings:g} servings of {grams_words(grams)} are {grams_words(portion)} each; 2 "
        f"tablespoons, about {REFERENCE:.0f} g, are customary for a dip.",
        why=f"From {LEAST:.0f} to {MOST:.0f} g is let pass. Figures a serving mean nothing for a "
        "serving nobody eats: check the servings, and whether an amount is for another batch.",
        confidence=likely if is_dip else likely - 0.3,
        gravity=0.8,
        fix=None
        if better == servings
        else Fix(
            words=f"Make it {better} servings of {grams_words(grams / better)}",
            apply=SetServings(servings=float(better)),
        ),
    )

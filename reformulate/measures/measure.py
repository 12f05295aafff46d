"""What a household measure of one food weighs."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """Grams of a food in one household measure, edible portion.

    Volume measures (cup, tbsp, tsp) are those of the US customary system, as the releases give them.
    """

    unit: str
    """Canonical unit word, singular: cup, tbsp, tsp, piece, clove, slice, can, jar, pack, stick ..."""
    grams: float
    """Mass of one such measure [g]."""
    qualifier: str = ""
    """What tells it from the food's other measures of that unit: "chopped", "medium", "15 oz, drained"."""
    source: str = ""
    """Where the figure comes from."""

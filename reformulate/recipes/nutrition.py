"""What is in a dish: nutrients of the batch, of a serving, and of 100 g."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reformulate.foods.nutrients import INDEX
from reformulate.recipes.batch import Batch, Ingredient

FloatArray = NDArray[np.float64]

GENERAL_FACTORS = (("protein_g", 4.0), ("carbohydrate_g", 4.0), ("fat_g", 9.0))
"""Energy by the general factors [kcal/g]; source: 21 CFR 101.9(c)(1)(i)(B)."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Nutrition:
    """The nutrients of given amounts of given ingredients."""

    totals: FloatArray
    """(39,) nutrients of the batch [nutrient unit]; a lower bound where ``at_least`` is set."""
    at_least: NDArray[np.bool_]
    """(39,) True where a food in the dish has no known figure, so the total is "at least"."""
    finished_grams: float
    """Mass of the finished batch [g]."""
    servings: float
    """Servings in the batch [count]."""

    @property
    def per_serving(self) -> FloatArray:
        """(39,) nutrients of one serving [nutrient unit]."""
        return self.totals / self.servings

    @property
    def per_100g(self) -> FloatArray:
        """(39,) nutrients of 100 g of the finished dish [nutrient unit]; 0 of a dish of nothing."""
        if self.finished_grams <= 0.0:
            return np.zeros_like(self.totals)
        return self.totals * (100.0 / self.finished_grams)

    @property
    def energy_by_general_factors(self) -> float:
        """Energy of the batch by 4-4-9 [kcal]: a check beside the foods' own energy, not a substitute."""
        return float(sum(f * self.totals[INDEX[key]] for key, f in GENERAL_FACTORS))


def nutrition(ingredients: Sequence[Ingredient], grams: FloatArray, servings: float) -> Nutrition:
    """Sum the nutrients of ``grams`` (n,) [g] of n ingredients, as listed.

    Energy is the sum of the foods' own energy values. An ingredient of which nothing is used
    does not make a total "at least".
    """
    per_gram = np.array([item.per_gram for item in ingredients])
    known = np.array([item.known for item in ingredients])
    shares = np.array([item.yield_share for item in ingredients])
    return Nutrition(
        totals=grams @ per_gram,
        at_least=np.logical_not(known[grams > 0].all(axis=0)),
        finished_grams=float(shares @ grams),
        servings=servings,
    )


def nutrition_of(batch: Batch) -> Nutrition:
    """Return what is in the dish as written."""
    return nutrition(batch.ingredients, batch.grams, batch.recipe.servings)

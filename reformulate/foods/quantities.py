"""All that a dish is measured by: nutrients, character and cost, in the order every vector keeps them."""

from __future__ import annotations

from typing import Final
from weakref import WeakKeyDictionary

import numpy as np
from numpy.typing import NDArray

from reformulate.foods.character import (
    CHARACTER,
    DERIVED,
    SALT_PER_SODIUM,
    STATED,
    stated_character,
)
from reformulate.foods.nutrients import INDEX, NUTRIENTS, Nutrient
from reformulate.foods.table import FoodTable

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

COST: Final = Nutrient("cost", "Cost", "", 2)
"""Money, in the currency of the set's prices."""

QUANTITIES: Final = (*NUTRIENTS, *CHARACTER, COST)
"""(39,) the thirty nutrients, the eight properties of character, cost."""

QUANTITY_INDEX: Final = {kind.key: i for i, kind in enumerate(QUANTITIES)}
"""Column of each quantity's key."""

_STATED_COLUMNS = [QUANTITY_INDEX[key] for key in STATED]
_DERIVED_COLUMNS = [QUANTITY_INDEX[key] for key in DERIVED]

_CACHE: WeakKeyDictionary[FoodTable, tuple[FloatArray, BoolArray]] = WeakKeyDictionary()


def quantity_named(key: str) -> Nutrient:
    """Return the quantity named ``key``; KeyError where there is none."""
    return QUANTITIES[QUANTITY_INDEX[key]]


def quantities_of(table: FoodTable) -> tuple[FloatArray, BoolArray]:
    """Return all quantities of every food, worked out once a table.

    Returns
    -------
    values : (n, 39) [each quantity's unit per 100 g edible portion], 0 where unknown
    known : (n, 39) whether the figure is known
    """
    found = _CACHE.get(table)
    if found is None:
        found = _CACHE[table] = _all_quantities(table)
    return found


def derive(nutrients: FloatArray, grams: float) -> FloatArray:
    """Return (..., 4) the derived properties of (..., 30) nutrients of ``grams`` [g] of food.

    Saltiness is sodium as salt, richness fat, moisture water; body is what is left when water, fat,
    sugars and salt are taken away.
    """
    salt = nutrients[..., INDEX["sodium_mg"]] * SALT_PER_SODIUM
    fat, water = nutrients[..., INDEX["fat_g"]], nutrients[..., INDEX["water_g"]]
    solids = grams - water - fat - nutrients[..., INDEX["sugars_g"]] - salt
    return np.stack([salt, fat, water, np.maximum(solids, 0.0)], axis=-1)


def rederived(quantities: FloatArray, grams: float) -> FloatArray:
    """Return (39,) quantities of ``grams`` [g] with the derived properties worked out anew."""
    anew = quantities.copy()
    anew[_DERIVED_COLUMNS] = derive(quantities[: len(NUTRIENTS)], grams)
    return anew


def _all_quantities(table: FoodTable) -> tuple[FloatArray, BoolArray]:
    n = len(table)
    values = np.zeros((n, len(QUANTITIES)))
    known = np.zeros((n, len(QUANTITIES)), dtype=np.bool_)
    values[:, : len(NUTRIENTS)], known[:, : len(NUTRIENTS)] = table.values, table.known
    stated = stated_character(table.foods)
    values[:, _STATED_COLUMNS] = np.where(stated.known, stated.values, 0.0)
    known[:, _STATED_COLUMNS] = stated.known
    values[:, _DERIVED_COLUMNS] = derive(table.values, 100.0)
    sodium, fat, water, sugars = (
        table.known[:, INDEX[key]] for key in ("sodium_mg", "fat_g", "water_g", "sugars_g")
    )
    known[:, _DERIVED_COLUMNS] = np.stack(
        [sodium, fat, water, sodium & fat & water & sugars], axis=-1
    )
    values[:, QUANTITY_INDEX["cost"]] = np.nan_to_num(table.prices)
    known[:, QUANTITY_INDEX["cost"]] = np.isfinite(table.prices)
    values[~known] = 0.0
    values.setflags(write=False)
    known.setflags(write=False)
    return values, known

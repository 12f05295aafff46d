"""Character: linear predictors of taste and texture, per 100 g of a food.

Four follow from the composition: saltiness, richness, moisture, body. Four are stated food by food
in ``character.csv``, each with its source:

- sweetness: each sugar's grams times its relative sweetness by mass, sucrose 1, glucose 0.74,
  lactose 0.16, maltose 0.33 (PMC10346066; published ranges 0.6-0.8, 0.15-0.4, 0.3-0.5); fructose
  1.5, our choice within the published 1.2-1.73; galactose 0.45 and other short chains 0.2 from
  memory.
- sourness: titratable acid as citric acid, 64.04 g per mol H+; lactic 90.08, acetic 60.05, malic
  67.05, tartaric 75.04. The buffer of fresh milk is not counted: nobody tastes it.
- savouriness: free glutamate, not the glutamic acid bound in protein. What nucleotides add to it
  multiplies, so no linear predictor holds it.
- pungency: fresh garlic is the unit. Fresh and dried alliums compare by what replaces a clove or an
  onion in the kitchen, raw ones by the pyruvate formed on cutting. For heat 2500 SHU as eaten count
  as fresh garlic: our own choice, because dips usually take about 10 g of garlic or 0.6 g of cayenne
  a kilogram. Mustard and horseradish are our own judgement.

A food of ours without a row has none to speak of, from memory.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Final

import numpy as np

from reformulate.foods.nutrients import Nutrient
from reformulate.foods.table import BoolArray, FloatArray, Food, food_table

CHARACTER: Final[tuple[Nutrient, ...]] = (
    Nutrient("saltiness", "Saltiness", "g", 2),
    Nutrient("sweetness", "Sweetness", "g", 1),
    Nutrient("sourness", "Sourness", "g", 2),
    Nutrient("savouriness", "Savouriness", "mg", 0),
    Nutrient("pungency", "Pungency", "g", 1),
    Nutrient("richness", "Richness", "g", 1),
    Nutrient("moisture", "Moisture", "g", 1),
    Nutrient("body", "Body", "g", 1),
)
"""The eight properties, in the order every vector and matrix of them keeps."""

STATED: Final = ("sweetness", "sourness", "savouriness", "pungency")
"""Columns of `stated_character`."""

DERIVED: Final = ("saltiness", "richness", "moisture", "body")
"""The properties that follow from the composition."""

MEANING: Final[Mapping[str, str]] = MappingProxyType(
    {
        "saltiness": "All sodium, counted as grams of salt.",
        "sweetness": "All sugars, counted as grams of table sugar equally sweet.",
        "sourness": "All acid that can be titrated, counted as grams of citric acid.",
        "savouriness": "Free glutamate, counted as milligrams of glutamic acid.",
        "pungency": "Bite and heat of garlic, onion, chile, pepper, mustard and the like, "
        "counted as grams of fresh garlic.",
        "richness": "All fat, in grams.",
        "moisture": "All water, in grams.",
        "body": "Solids that are neither fat nor sugar nor salt, in grams: protein, starch, fibre "
        "and the like.",
    }
)
"""What each property measures, one sentence by key."""

SALT_PER_SODIUM: Final = 2.5421 / 1000
"""Salt [g] per sodium [mg]: 58.443 / 22.990, the molar masses of NaCl and Na (IUPAC)."""

_FIRM = ("published", "computed", "definition")  # how the source of firm figures begins
_NONE_TO_SPEAK_OF = "from memory; none to speak of"
_NOT_STATED = "not stated: this food is not in our table"
_COLUMN = {key: column for column, key in enumerate(STATED)}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StatedCharacter:
    """Sweetness, sourness, savouriness and pungency of n foods, columns in the order of STATED."""

    values: FloatArray
    """(n, 4) [g, g, mg, g per 100 g edible portion]; 0 where unknown."""
    known: BoolArray
    """(n, 4) whether the figure is known: an unknown one is not zero, it is a lower bound."""
    firm: BoolArray
    """(n, 4) whether a publication, figures computed from one or the definition stand behind it."""


def stated_character(foods: Sequence[Food]) -> StatedCharacter:
    """Return the stated properties of ``foods``, row by row.

    A food of our own table is known in all four; any other, such as a row of a release, in none.

    Parameters
    ----------
    foods
        The n foods, in the order the rows are wanted.

    Returns
    -------
    StatedCharacter
        (n, 4) arrays; the source of each figure is in `source_of`.
    """
    rows, values, firm = _stated()
    unknown = len(rows)  # the row after the last, all zero
    chosen = np.array([rows.get(food.key, unknown) for food in foods], dtype=np.intp)
    known = np.repeat((chosen < unknown)[:, np.newaxis], len(STATED), axis=1)
    return StatedCharacter(values=values[chosen], known=known, firm=firm[chosen])


def source_of(food_key: str, property_key: str) -> str:
    """Return where a stated figure comes from and how it was obtained.

    Parameters
    ----------
    food_key
        A food's own key.
    property_key
        One of STATED.

    Returns
    -------
    str
        The source and, after a semicolon, the method, such as "common practice; 5 % acetic acid".

    Raises
    ------
    KeyError
        ``property_key`` is not a stated one.
    """
    if property_key not in _COLUMN:
        raise KeyError(property_key)
    if food_key not in _stated()[0]:
        return _NOT_STATED
    return _sources().get((food_key, property_key), _NONE_TO_SPEAK_OF)


@cache
def _stated() -> tuple[dict[str, int], FloatArray, BoolArray]:
    """Row of each of our foods; (n + 1, 4) values and whether they are firm, the last row unknown."""
    rows = {food.key: row for row, food in enumerate(food_table())}
    values = np.zeros((len(rows) + 1, len(STATED)))
    firm = np.zeros(values.shape, dtype=np.bool_)
    for food, property_, value, source, _ in _lines():
        place = rows[food], _COLUMN[property_]
        values[place] = float(value)
        firm[place] = source.startswith(_FIRM)
    return rows, values, firm


@cache
def _sources() -> dict[tuple[str, str], str]:
    return {(row[0], row[1]): f"{row[3]}; {row[4]}" for row in _lines()}


@cache
def _lines() -> tuple[list[str], ...]:
    path = Path(__file__).with_name("character.csv")
    with path.open(encoding="utf-8", newline="") as file:
        rows = csv.reader(file)
        next(rows)
        return tuple(rows)

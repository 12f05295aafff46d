"""The food table: what each food is, what 100 g of it holds, what its household measures weigh."""

from __future__ import annotations

import csv
import difflib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from reformulate.errors import BadInput, Problem
from reformulate.foods.nutrients import NUTRIENTS
from reformulate.measures.measure import Measure

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

_HERE = Path(__file__).parent
_FIRST_FIGURE = 8  # columns before the nutrients in table.csv


@dataclass(frozen=True, slots=True, kw_only=True)
class Food:
    """One food: its names, its household measures and where its figures come from."""

    key: str
    """What a recipe file writes: ``onion-yellow``, or ``ndb:11282`` for a row of a release."""
    name: str
    group: str = ""
    words: tuple[str, ...] = ()
    """Further words to find it by, such as the British or American name."""
    source: str = ""
    """Where the figures come from: "NDB 11282, SR28", or "from memory"."""
    ndb: str | None = None
    """Number in the Standard Reference, five digits; None for a food that has no row there."""
    edible_share: float = 1.0
    """Edible grams per gram as bought [fraction], 0 to 1."""
    measures: tuple[Measure, ...] = ()
    """The first of each unit is that unit's default."""
    note: str = ""
    """What a careful reader should know about the figures."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, weakref_slot=True)
class FoodTable:
    """Foods and one composition matrix, per 100 g edible portion."""

    foods: tuple[Food, ...]
    """Row names, (n,): row i of ``values`` and ``known`` is ``foods[i]``."""
    values: FloatArray
    """(n, 30) [each nutrient's unit per 100 g edible portion], in the order of NUTRIENTS; 0 where
    unknown."""
    known: BoolArray
    """(n, 30) whether the figure is known: an unknown one is not zero, it is a lower bound."""
    prices: FloatArray = field(default_factory=lambda: np.empty(0))
    """(n,) price per 100 g edible portion [the set's currency], nan where unknown; empty for none."""
    _rows: dict[str, int] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        shape = (len(self.foods), len(NUTRIENTS))
        if self.values.shape != shape or self.known.shape != shape:
            message = f"expected shape {shape}, got {self.values.shape} and {self.known.shape}"
            raise ValueError(message)
        prices = np.array(self.prices, dtype=np.float64)
        if prices.size == 0:
            prices = np.full(len(self.foods), np.nan)
        rows = {food.key: row for row, food in enumerate(self.foods)}
        if len(rows) < len(self.foods):
            raise ValueError("two foods have the same key")
        for row, food in enumerate(self.foods):
            if food.ndb is not None:
                # Table and kosher salt share one release row: its number means the first of them.
                rows.setdefault(f"ndb:{food.ndb}", row)
        known = np.array(self.known, dtype=np.bool_)
        values = np.where(known, self.values, 0.0)
        for array in (known, values, prices):
            array.setflags(write=False)
        object.__setattr__(self, "prices", prices)
        object.__setattr__(self, "known", known)
        object.__setattr__(self, "values", values)
        object.__setattr__(self, "_rows", rows)

    def __len__(self) -> int:
        return len(self.foods)

    def __iter__(self) -> Iterator[Food]:
        return iter(self.foods)

    def __contains__(self, key: object) -> bool:
        return isinstance(key, str) and full_key(key) in self._rows

    def index(self, key: str) -> int:
        """Return the row of the food ``key`` names.

        Parameters
        ----------
        key
            A food's own key, or ``ndb:`` and a number in the Standard Reference.

        Raises
        ------
        BadInput
            No food has that key; the fix names the nearest keys.
        """
        row = self._rows.get(full_key(key))
        if row is None:
            raise BadInput(self._unknown(key))
        return row

    def food(self, key: str) -> Food:
        """Return the food ``key`` names; errors as for `index`."""
        return self.foods[self.index(key)]

    def merged(self, other: FoodTable) -> FoodTable:
        """Return these foods followed by those of ``other`` that no key of ours names.

        A release row whose NDB number one of our foods carries is left out: ``ndb:`` and that
        number keep naming our food.
        """
        new = [row for row, food in enumerate(other.foods) if food.key not in self]
        return FoodTable(
            foods=(*self.foods, *(other.foods[row] for row in new)),
            values=np.concatenate([self.values, other.values[new]]),
            known=np.concatenate([self.known, other.known[new]]),
            prices=np.concatenate([self.prices, other.prices[new]]),
        )

    def with_prices(self, prices: Mapping[str, float]) -> FoodTable:
        """Return these foods with prices by key [currency per 100 g edible portion], no others.

        Raises
        ------
        BadInput
            No food has a key that is priced.
        """
        column = np.full(len(self.foods), np.nan)
        for key, price in prices.items():
            column[self.index(key)] = price
        return replace(self, prices=column)

    def _unknown(self, key: str) -> Problem:
        own = [food.key for food in self.foods if not food.key.startswith("ndb:")]
        if key.startswith("ndb:"):
            fix = "Open your download of the release that has this number, or pick another food."
        elif near := difflib.get_close_matches(key.strip().lower(), own, n=3, cutoff=0.6):
            fix = f"Did you mean {' or '.join(near)}?"
        else:
            fix = "Search the food table by name and use the key it shows."
        return Problem(where=f"food “{key}”", what="There is no food with this key.", fix=fix)


@cache
def food_table() -> FoodTable:
    """Return the program's own food table, read once.

    Figures are those of the Standard Reference release each food names; cups and spoons are US
    customary.
    """
    measures: dict[str, list[Measure]] = {}
    for food, unit, qualifier, grams, source in _rows_of("measures.csv"):
        measure = Measure(unit=unit, grams=float(grams), qualifier=qualifier, source=source)
        measures.setdefault(food, []).append(measure)
    rows = _rows_of("table.csv")
    figures = [row[_FIRST_FIGURE:] for row in rows]
    return FoodTable(
        foods=tuple(_food(row, tuple(measures.get(row[0], ()))) for row in rows),
        values=np.array([[float(text or 0) for text in row] for row in figures]),
        known=np.array([[text != "" for text in row] for row in figures]),
    )


def _food(row: list[str], measures: tuple[Measure, ...]) -> Food:
    key, name, group, words, ndb, release, edible_percent, note = row[:_FIRST_FIGURE]
    return Food(
        key=key,
        name=name,
        group=group,
        words=tuple(words.split(";")) if words else (),
        source=f"NDB {ndb}, {release}" if ndb else release,
        ndb=ndb or None,
        edible_share=float(edible_percent) / 100,
        measures=measures,
        note=note,
    )


def _rows_of(name: str) -> list[list[str]]:
    """Rows below the header of one of this package's tables."""
    with (_HERE / name).open(encoding="utf-8", newline="") as file:
        rows = csv.reader(file)
        next(rows)
        return list(rows)


def full_key(key: str) -> str:
    """Return a key in full, ``ndb:1009`` as ``ndb:01009``: spreadsheets drop the leading zero."""
    return f"ndb:{key[4:].zfill(5)}" if key.startswith("ndb:") else key

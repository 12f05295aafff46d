"""The words every food of a table is known by, sorted once and kept."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final
from weakref import WeakKeyDictionary

from reformulate.foods import INDEX, Food, FoodTable
from reformulate.recipes.matching.aliases import aliases
from reformulate.recipes.matching.forms import NO_FORM, Form, joined
from reformulate.recipes.matching.idle_words import IDLE
from reformulate.recipes.matching.text import Sorted, sorted_words
from reformulate.recipes.matching.words import plain, words_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Name:
    """One name of a food."""

    head: frozenset[str]
    """Words without which the name is not meant: what stands before the comma."""
    words: Sorted
    is_own: bool
    """Whether it is the food's name in the table, not a further word to find it by."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """One food as matching sees it."""

    row: int
    key: str
    title: str
    names: tuple[Name, ...]
    """Its own name first."""
    every_word: frozenset[str]
    """Words of the food in all its names."""
    form: Form
    """The form its own name says."""
    any_form: Form
    """The form any of its names says."""
    energy: float
    """[kcal per 100 g], nan where unknown."""
    sodium: float
    """[mg per 100 g], nan where unknown."""
    fat: float
    """[g per 100 g], nan where unknown."""
    sugars: float
    """[g per 100 g], nan where unknown."""
    is_release: bool
    """Whether it is a row of a public release, not a food of the program or the set."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Index:
    """All foods of a table by their words."""

    foods: tuple[Known, ...]
    rows: Mapping[str, tuple[int, ...]]
    """Rows of the foods that have a word in any name."""
    weight: Mapping[str, float]
    """How telling a word is [fraction]: 1 where a single food has it, less for common words."""
    by_key: Mapping[str, int]
    """Row of each key, with those by which an alias may name a food."""
    exact: Mapping[str, int]
    """Row of each name as written, folded."""
    known_words: frozenset[str]
    """Every word of foods and aliases, and those that say nothing."""
    vocabulary: tuple[str, ...]
    """The same in a fixed order, to search for the nearest spelling."""
    spellings: dict[str, tuple[str, int]]
    """Words that were searched for, with the nearest and by how many slips."""


_INDEXES: Final[WeakKeyDictionary[FoodTable, Index]] = WeakKeyDictionary()


def index_of(table: FoodTable) -> Index:
    """Return the table's index, built at its first use."""
    index = _INDEXES.get(table)
    if index is None:
        index = _INDEXES[table] = _build(table)
    return index


def _build(table: FoodTable) -> Index:
    foods = tuple(_known(table, row, food) for row, food in enumerate(table.foods))
    rows: dict[str, list[int]] = defaultdict(list)
    for known in foods:
        for word in known.every_word:
            rows[word].append(known.row)
    for alias in aliases():
        for key in alias.foods:
            if key in table:
                row = table.index(key)
                for word in alias.words.food - foods[row].every_word:
                    if row not in rows[word]:
                        rows[word].append(row)
    exact: dict[str, int] = {}
    for known in foods:
        exact.setdefault(as_written(known.title), known.row)
    every = math.log(len(foods) + 1.0)
    return Index(
        foods=foods,
        rows={word: tuple(of_word) for word, of_word in rows.items()},
        weight={word: 1.0 - math.log(len(of_word) or 1) / every for word, of_word in rows.items()},
        by_key={known.key: known.row for known in foods},
        exact=exact,
        spellings={},
        known_words=frozenset({*rows, *IDLE}),
        vocabulary=tuple(sorted({*rows, *IDLE})),
    )


def as_written(text: str) -> str:
    """Return a name folded and with single spaces, to tell whether two are the same."""
    return " ".join(plain(text).split())


def _known(table: FoodTable, row: int, food: Food) -> Known:
    names = (_name(food.name, is_own=True), *(_name(text, is_own=False) for text in food.words))
    any_form: Form = NO_FORM
    for name in names:
        any_form = joined(any_form, name.words.form)
    return Known(
        row=row,
        key=food.key,
        title=food.name,
        names=tuple(name for name in names if name.head or name.is_own),
        every_word=frozenset[str]().union(*(name.words.food for name in names)),
        form=names[0].words.form,
        any_form=any_form,
        energy=_figure(table, row, "energy_kcal"),
        sodium=_figure(table, row, "sodium_mg"),
        fat=_figure(table, row, "fat_g"),
        sugars=_figure(table, row, "sugars_g"),
        is_release=food.key.startswith("ndb:"),
    )


def _name(text: str, *, is_own: bool) -> Name:
    words = sorted_words(words_of(text))
    head = sorted_words(words_of(text.partition(",")[0])).food
    return Name(head=head or words.food, words=words, is_own=is_own)


def _figure(table: FoodTable, row: int, nutrient: str) -> float:
    column = INDEX[nutrient]
    return float(table.values[row, column]) if table.known[row, column] else math.nan

"""Rows of the store as foods with their figures, and as sources."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Sequence
from typing import Any

import msgspec
import numpy as np

from reformulate.errors import BadInput, Problem
from reformulate.foods.nutrients import NUTRIENTS
from reformulate.foods.store.provenance import Source, SourceFile
from reformulate.foods.store.record import SR_LEGACY
from reformulate.foods.store.schema import FIRST_BRANDED
from reformulate.foods.store.tally import Skipped
from reformulate.foods.table import Food, FoodTable, full_key
from reformulate.measures.measure import Measure

_COLUMNS = "key, name, grp, words, origin, ndb, edible, note, measures, figures"
_AT_ONCE = 500  # keys in one query


def table_of(connection: sqlite3.Connection | None, keys: Sequence[str]) -> FoodTable:
    """Return the foods with these keys, in the order asked, each once; no store has none.

    ``ndb:`` and a number of which the Standard Reference is not imported names the food of
    FoodData Central that carries it on, SR Legacy before Foundation.

    Raises
    ------
    BadInput
        No food has a key: every such key.
    """
    asked = dict.fromkeys(full_key(key.strip()) for key in keys)
    found = {} if connection is None else _rows(connection, list(asked))
    foods: dict[str, tuple[Food, bytes]] = {}
    problems = []
    for key in asked:
        row = found.get(key) or _carried_on(connection, key)
        if row is None:
            what = "There is no food with this key among the imported ones."
            fix = "Search the imported foods by name, or import the release that has it."
            problems.append(Problem(where=f"food “{key}”", what=what, fix=fix))
        else:
            foods.setdefault(row[0], (_food(row), row[-1]))
    if problems:
        raise BadInput(problems)
    return _as_table(list(foods.values()))


def plain_of(connection: sqlite3.Connection | None, most: int) -> FoodTable:
    """Return the foods that are no package's, at most so many, short names first."""
    rows: list[tuple[Any, ...]] = []
    if connection is not None:
        query = f"SELECT {_COLUMNS} FROM foods WHERE id < ? ORDER BY id LIMIT ?"  # noqa: S608 - names
        rows = connection.execute(query, (FIRST_BRANDED, most)).fetchall()
    return _as_table([(_food(row), row[-1]) for row in rows])


def _as_table(foods: list[tuple[Food, bytes]]) -> FoodTable:
    values = np.frombuffer(b"".join(blob for _, blob in foods), dtype="<f8")
    values = values.reshape(len(foods), len(NUTRIENTS)).astype(np.float64)
    known = ~np.isnan(values)
    return FoodTable(
        foods=tuple(food for food, _ in foods), values=np.where(known, values, 0.0), known=known
    )


def sources_of(
    connection: sqlite3.Connection, only: Iterable[int] | None = None
) -> tuple[Source, ...]:
    """Return where the foods come from, oldest import first; ``only`` those with these ids."""
    wanted = None if only is None else set(only)
    rows = connection.execute(
        "SELECT id, kind, release, picked, imported_at, files, skipped,"
        " (SELECT count(*) FROM foods WHERE source = sources.id) FROM sources ORDER BY id"
    )
    return tuple(
        Source(
            kind=kind,
            release=release,
            picked=bool(picked),
            imported_at=when,
            foods=count,
            files=msgspec.json.decode(files, type=tuple[SourceFile, ...]),
            skipped=msgspec.json.decode(skipped, type=tuple[Skipped, ...]),
        )
        for key, kind, release, picked, when, files, skipped, count in rows
        if wanted is None or key in wanted
    )


def _rows(connection: sqlite3.Connection, keys: list[str]) -> dict[str, tuple[Any, ...]]:
    found = {}
    for start in range(0, len(keys), _AT_ONCE):
        some = keys[start : start + _AT_ONCE]
        marks = ",".join("?" * len(some))
        query = f"SELECT {_COLUMNS} FROM foods WHERE key IN ({marks})"  # noqa: S608 - question marks
        found.update({row[0]: row for row in connection.execute(query, some)})
    return found


def _carried_on(connection: sqlite3.Connection | None, key: str) -> tuple[Any, ...] | None:
    if connection is None or not key.startswith("ndb:"):
        return None
    query = (
        f"SELECT {_COLUMNS} FROM foods WHERE ndb=? ORDER BY"  # noqa: S608 - names of columns
        " (SELECT kind != ? FROM sources WHERE sources.id = foods.source), id LIMIT 1"
    )
    row: tuple[Any, ...] | None = connection.execute(query, (key[4:], SR_LEGACY)).fetchone()
    return row


def _food(row: tuple[Any, ...]) -> Food:
    key, name, group, words, origin, ndb, edible, note, measures, _ = row
    return Food(
        key=key,
        name=name,
        group=group,
        words=tuple(words.split(";")) if words else (),
        source=origin,
        ndb=ndb,
        edible_share=edible,
        measures=tuple(
            Measure(unit=unit, grams=grams, qualifier=qualifier, source=source)
            for unit, grams, qualifier, source in msgspec.json.decode(measures)
        ),
        note=note,
    )

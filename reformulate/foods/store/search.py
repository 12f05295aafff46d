"""Finding a food among half a million as its name is typed.

The index gives matches by place: other foods before branded ones, short names before long ones. A
search therefore reads the first few hundred matches only, and ranks those as the program's own
table is ranked.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass

from reformulate.foods.store.schema import INDEXED_PREFIX
from reformulate.foods.store.words import typed_words, words_of

_CANDIDATES = 300  # ranked; the best are among the shortest names
_MOST_WORDS = 8  # typed words that count
_SPELT_OUT = 64  # words of the index that a long beginning is spelt out as
_NEAR_ENOUGH = 72.0  # similarity [0-100] at which a mistyped word still counts
_NEAREST = 4  # spellings tried for a mistyped word
_LOOKED_AT = 20_000  # spellings compared with it


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """One food that was found."""

    key: str
    name: str
    group: str
    source: str
    """The collection it comes from: "Standard Reference, SR28"."""


def hits_of(
    connection: sqlite3.Connection, text: str, limit: int, *, guess: bool
) -> tuple[Hit, ...]:
    """Return the foods that ``text`` may mean, best first.

    Every typed word must begin a word of the food's name, further words or number; where a word
    begins none, the nearest spellings stand in for it if it is to ``guess``.
    """
    typed = list(dict.fromkeys(typed_words(text)))[:_MOST_WORDS]
    wanted = max(_CANDIDATES, limit)
    if not typed:
        rows = _foods(connection, "SELECT id FROM foods ORDER BY id LIMIT ?", (limit,))
        return tuple(_hit(row) for row in rows)
    query = _query(connection, typed, guess=guess)
    if query is None:
        return ()
    rows = _foods(
        connection, "SELECT rowid FROM names WHERE names MATCH ? LIMIT ?", (query, wanted)
    )
    ranked = sorted(rows, key=lambda row: _rank(row[1], typed))
    return tuple(_hit(row) for row in ranked[:limit])


_Row = tuple[str, str, str, str, str]


def _foods(connection: sqlite3.Connection, ids: str, values: tuple[object, ...]) -> list[_Row]:
    query = (
        "SELECT key, name, grp, kind, release FROM foods"  # noqa: S608 - one of two queries above
        f" JOIN sources ON sources.id = foods.source WHERE foods.id IN ({ids}) ORDER BY foods.id"
    )
    return connection.execute(query, values).fetchall()


def _hit(row: _Row) -> Hit:
    key, name, group, kind, release = row
    return Hit(key=key, name=name, group=group, source=f"{kind}, {release}")


def _query(connection: sqlite3.Connection, typed: list[str], *, guess: bool) -> str | None:
    """Return the typed words as the index takes them; None where one begins nothing at all."""
    parts = [
        _beginning(connection, word) or (_nearest(connection, word) if guess else None)
        for word in typed
    ]
    return None if None in parts else " AND ".join(part for part in parts if part)


def _beginning(connection: sqlite3.Connection, word: str) -> str | None:
    """Return what finds the foods that have a word beginning with ``word``; None for no such word.

    Beyond the letters that are indexed, the few words with that beginning are named one by one:
    the index then reads on from match to match instead of gathering all matches first.
    """
    found = connection.execute(
        "SELECT word FROM spellings WHERE word >= ? AND word < ? LIMIT ?",
        (word, word + "\U0010ffff", 1 if len(word) <= INDEXED_PREFIX else _SPELT_OUT + 1),
    ).fetchall()
    if not found:
        return None
    if len(word) <= INDEXED_PREFIX or len(found) > _SPELT_OUT:
        return f'"{word}"*'
    return _either(spelling for (spelling,) in found)


def _nearest(connection: sqlite3.Connection, word: str) -> str | None:
    from rapidfuzz import fuzz, process  # noqa: PLC0415 - slow to import, rarely needed

    near = connection.execute(
        "SELECT word FROM spellings WHERE word >= ? AND word < ? AND length(word) BETWEEN ? AND ?"
        " LIMIT ?",
        (word[0], word[0] + "\U0010ffff", len(word) - 2, len(word) + 2, _LOOKED_AT),
    )
    best = process.extract(
        word,
        [spelling for (spelling,) in near],
        scorer=fuzz.ratio,
        score_cutoff=_NEAR_ENOUGH,
        limit=_NEAREST,
    )
    return _either(spelling for spelling, _, _ in best) if best else None


def _either(words: Iterable[str]) -> str:
    return "(" + " OR ".join(f'"{word}"' for word in words) + ")"


def _rank(name: str, typed: list[str]) -> tuple[int, int, int, int]:
    """Names that start with the typed words first, then whole words, then a short main noun.

    "Cream, sour" starts with "sour cream" too, and "onions" is the whole word "onion". Equals keep
    the order of the index.
    """
    words = words_of(name)
    noun = len(name.partition(",")[0])
    if _begun(words[: len(typed)], typed):
        standing = 0
    elif _begun(words, typed):
        standing = 1
    else:
        standing = 2
    bare = {_singular(word) for word in words}
    exact = sum(_singular(word) in bare for word in typed)
    first = next((i for i, word in enumerate(words) if word.startswith(typed[0])), len(words))
    return standing, -exact, first if standing else 0, noun


def _begun(words: list[str], typed: list[str]) -> bool:
    return all(any(word.startswith(start) for word in words) for start in typed)


def _singular(word: str) -> str:
    return (
        word.removesuffix("s").removesuffix("e") if word.endswith("oes") else word.removesuffix("s")
    )

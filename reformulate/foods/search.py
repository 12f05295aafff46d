"""Finding a food as its name is typed."""

from __future__ import annotations

import re
from bisect import bisect_left
from dataclasses import dataclass
from weakref import WeakKeyDictionary

from reformulate.foods.plain_text import folded
from reformulate.foods.table import Food, FoodTable

_WORD = re.compile(r"[a-z0-9]+")
_NEAR_ENOUGH = 72.0  # similarity [0-100] at which a mistyped word still counts: one slip in four


@dataclass(frozen=True, slots=True, kw_only=True)
class _Index:
    vocabulary: tuple[str, ...]
    """Every word of every food, sorted."""
    rows: tuple[frozenset[int], ...]
    """Rows of the table that carry each word of the vocabulary."""
    names: tuple[str, ...]
    """Folded name of each row."""
    name_words: tuple[tuple[str, ...], ...]
    """Words of the name of each row."""
    all_words: tuple[frozenset[str], ...]
    """Words of name, further words and key of each row."""


_INDEXES: WeakKeyDictionary[FoodTable, _Index] = WeakKeyDictionary()


def search_foods(
    table: FoodTable, text: str, limit: int = 20, *, guess: bool = True
) -> tuple[Food, ...]:
    """Return the foods that ``text`` may mean, best first.

    Every typed word must begin a word of the food's name, further words or key; a name that
    starts with the text comes first, then names before further words, whole words before
    beginnings, and shorter main nouns (what stands before the comma) before longer ones; equals
    keep the table's order, in which the regular kind precedes the lighter ones. Where nothing
    matches, the nearest spellings are offered.

    Parameters
    ----------
    table
        The foods to search.
    text
        What has been typed so far; upper case and accents do not matter. Nothing typed gives the
        table's first foods.
    limit
        Most foods to return [count].
    guess
        Offer the nearest spellings where nothing matches.
    """
    typed = _words_of(text)
    if not typed:
        return table.foods[:limit]
    index = _index(table)
    rows = set.intersection(*(_beginning_with(index, word) for word in typed))
    if rows:
        phrase = folded(text).strip()
        ranked = sorted(rows, key=lambda row: _rank(index, row, typed, phrase))
    else:
        ranked = _nearest(index, typed) if guess else []
    return tuple(table.foods[row] for row in ranked[:limit])


def _rank(index: _Index, row: int, typed: list[str], phrase: str) -> tuple[int, int, int, int, int]:
    name, words = index.names[row], index.name_words[row]
    noun = name.partition(",")[0]
    if name.startswith(phrase):
        standing = 0
    elif all(any(word.startswith(start) for word in words) for start in typed):
        standing = 1
    else:
        standing = 2
    of_name = words if standing < 2 else index.all_words[row]
    exact = sum(word in of_name for word in typed)
    first = next((i for i, word in enumerate(words) if word.startswith(typed[0])), len(words))
    return standing, -exact, first, len(noun), row


def _beginning_with(index: _Index, start: str) -> set[int]:
    low = bisect_left(index.vocabulary, start)
    high = bisect_left(index.vocabulary, start + "\uffff")
    return set().union(*index.rows[low:high])


def _nearest(index: _Index, typed: list[str]) -> list[int]:
    """Rows with words spelt like the typed ones: all of them, or failing that as many as can be."""
    from rapidfuzz import fuzz, process  # noqa: PLC0415 - slow to import, rarely needed

    total: dict[int, tuple[int, float]] = {}
    for word in typed:
        best: dict[int, float] = {}
        for _, score, at in process.extract(
            word, index.vocabulary, scorer=fuzz.ratio, score_cutoff=_NEAR_ENOUGH, limit=None
        ):
            for row in index.rows[at]:
                best[row] = max(best.get(row, 0.0), score)
        for row, score in best.items():
            count, points = total.get(row, (0, 0.0))
            total[row] = count + 1, points + score
    most = max((count for count, _ in total.values()), default=0)
    rows = [row for row, (count, _) in total.items() if count == most]
    return sorted(rows, key=lambda row: (-total[row][1], len(index.names[row]), row))


def _index(table: FoodTable) -> _Index:
    index = _INDEXES.get(table)
    if index is None:
        index = _INDEXES[table] = _build(table)
    return index


def _build(table: FoodTable) -> _Index:
    names = tuple(folded(food.name) for food in table.foods)
    name_words = tuple(tuple(_WORD.findall(name)) for name in names)
    all_words = tuple(
        frozenset([*words, *_words_of(f"{food.key} {' '.join(food.words)}")])
        for food, words in zip(table.foods, name_words, strict=True)
    )
    rows: dict[str, set[int]] = {}
    for row, words in enumerate(all_words):
        for word in words:
            rows.setdefault(word, set()).add(row)
    vocabulary = tuple(sorted(rows))
    return _Index(
        vocabulary=vocabulary,
        rows=tuple(frozenset(rows[word]) for word in vocabulary),
        names=names,
        name_words=name_words,
        all_words=all_words,
    )


def _words_of(text: str) -> list[str]:
    return _WORD.findall(folded(text))

"""The foods a line may mean, by points."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import Final

from reformulate.recipes.matching.aliases import Alias, aliases_by_words
from reformulate.recipes.matching.names import Index, Known
from reformulate.recipes.matching.query import Query
from reformulate.recipes.matching.scoring import Scored, applying, score_alias, score_food

_MOST_COMPARED: Final = 200
"""Foods that are looked at closely [count]; those that share the most telling words."""
_LEAST_SHARED: Final = 0.4
"""Telling words that a food shares, of those the best shares [fraction]: cream cheese, not cheese."""


def rank(query: Query, index: Index) -> list[Scored]:
    """Return the foods that share words with a line, best first, each once."""
    best: dict[int, Scored] = {}
    usual: Known | None = None
    for alias in _called(query):
        rows = [index.by_key[key] for key in alias.foods if key in index.by_key]
        if rows and not alias.ask and usual is None:
            usual = index.foods[rows[0]]
        for place, row in enumerate(rows):
            _keep(best, score_alias(query, alias, index.foods[row], place))
    for row in _sharing_words(query, index):
        _keep(best, score_food(query, index.foods[row], index, usual))
    return sorted(best.values(), key=lambda one: (-one.points, one.known.row))


def _called(query: Query) -> list[Alias]:
    """Return what cooks are known to call by the line's words, its further words first."""
    for words in query.wider:
        found = applying(query, aliases_by_words().get(words, ()))
        if found:
            return found
    return []


def _keep(best: dict[int, Scored], one: Scored) -> None:
    old = best.get(one.known.row)
    if old is not None:
        better = old if old.points >= one.points else one
        one = replace(better, words=old.words | one.words)
    best[one.known.row] = one


def _sharing_words(query: Query, index: Index) -> list[int]:
    shared: dict[int, float] = defaultdict(float)
    for word in query.food:
        weight = index.weight.get(word, 0.0) + 0.01
        for row in index.rows.get(word, ()):
            shared[row] += weight
    least = _LEAST_SHARED * max(shared.values(), default=0.0)
    ranked = sorted(shared.items(), key=lambda pair: (-pair[1], pair[0]))
    return [row for row, weight in ranked[:_MOST_COMPARED] if weight >= least]

"""Words that no food has, read as the words they are most likely meant to be."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import Final

from reformulate.recipes.matching.idle_words import IDLE
from reformulate.recipes.matching.names import Index
from reformulate.recipes.matching.query import Query

_SHORTEST: Final = 5
"""Letters a word needs before a slip in it can be told from another word."""
_LONG: Final = 8
"""Letters from which two slips are thought possible."""
_CERTAIN: Final = 7
"""Letters from which one slip is taken as read: batter is no butter."""
_MOST_LETTERS: Final = 30


def spelt(query: Query, index: Index) -> tuple[Query, str]:
    """Return the query with mistyped words put right, and what is in doubt about that, if any."""
    food: set[str] = set()
    idle = set(query.idle)
    doubts: list[str] = []
    for word in sorted(query.food):
        meant, slips = (word, 0) if word in index.known_words else _nearest(word, index)
        (idle if meant in IDLE else food).add(meant)
        if slips > 1 or (slips and (len(word) < _CERTAIN or word[0] != meant[0])):
            doubts.append(f"“{word}” was read as “{meant}”")
    if food == query.food:
        return query, ""
    return replace(query, food=frozenset(food), idle=frozenset(idle)), "; ".join(doubts)


@lru_cache(maxsize=2048)
def _nearest(word: str, index: Index) -> tuple[str, int]:
    """Return the word of the foods that is spelt most alike, and by how many slips."""
    from rapidfuzz import process  # noqa: PLC0415 - only mistyped words need it
    from rapidfuzz.distance import OSA  # noqa: PLC0415

    if not _SHORTEST <= len(word) <= _MOST_LETTERS or not word.isalpha():
        return word, 0
    most = 2 if len(word) >= _LONG else 1
    near = process.extract(
        word, index.vocabulary, scorer=OSA.distance, score_cutoff=most, limit=None
    )
    slips, _, meant = min(
        ((slips, known[0] != word[0], known) for known, slips, _ in near), default=(0, False, word)
    )
    return meant, int(slips)

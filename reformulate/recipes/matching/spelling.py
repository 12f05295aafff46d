"""Words that no food has, read as the words they are most likely meant to be."""

from __future__ import annotations

from dataclasses import replace
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
_MOST_KEPT: Final = 2048


def spelt(query: Query, index: Index) -> tuple[Query, str]:
    """Return the query with mistyped words put right, and what is in doubt about that, if any."""
    food: set[str] = set()
    aside: set[str] = set()
    idle = set(query.idle)
    doubts: list[str] = []
    for words, kept in ((query.food, food), (query.aside, aside)):
        for word in sorted(words):
            meant, slips = (word, 0) if word in index.known_words else _nearest(word, index)
            (idle if meant in IDLE else kept).add(meant)
            certain = slips <= 1 and len(word) >= _CERTAIN and word[0] == meant[0]
            if slips and not certain and kept is food:
                doubts.append(f"“{word}” was read as “{meant}”")
    if food == query.food and aside == query.aside:
        return query, ""
    better = replace(
        query, food=frozenset(food), aside=frozenset(aside - food), idle=frozenset(idle)
    )
    return better, "; ".join(doubts)


def _nearest(word: str, index: Index) -> tuple[str, int]:
    """Return the word of the foods that is spelt most alike, and by how many slips."""
    found = index.spellings.get(word)
    if found is None:
        if len(index.spellings) >= _MOST_KEPT:
            index.spellings.clear()
        found = index.spellings[word] = _searched(word, index)
    return found


def _searched(word: str, index: Index) -> tuple[str, int]:
    from rapidfuzz import process  # noqa: PLC0415 - only mistyped words need it
    from rapidfuzz.distance import OSA  # noqa: PLC0415

    scanned = word.replace("rn", "m")
    if scanned != word and scanned in index.known_words:
        return scanned, 1  # what a scanner makes of an m
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

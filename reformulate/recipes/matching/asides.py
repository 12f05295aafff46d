"""What stands in a line beside the food itself: remarks, and names written backwards.

"Vinegar, balsamic" names the kind after the comma; "(or brown sugar)" names another food. The
first may tell which food is meant; the second only casts doubt.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from reformulate.measures import canonical_unit
from reformulate.recipes.matching.text import Sorted, sorted_words
from reformulate.recipes.matching.words import LONGEST, words_of
from reformulate.recipes.reading import ReadLine

_BREAKS: Final = re.compile(r"[,;:()\[\]{}–—/\n]| - ")
_PACKS: Final = re.compile(r"\b(?:can|cans|tin|tins|jar|jars)\b", re.IGNORECASE)
_LOOSE: Final = frozenset(
    "or not never no instead substitute substituted replace use used using like such prefer preferred "
    "prefers example eg if though but optional for i my you your from"
    .split()
)
"""Words of remarks that name something else than what is listed: "(or brown sugar)"."""
_COMPANY: Final = frozenset({"with", "flavored", "flavoured", "stuffed", "topped", "in", "made"})
_MOST: Final = 12
"""Segments of a line that are looked at [count]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asides:
    """The words of a line, by the segments they stand in."""

    told: tuple[Sorted, ...]
    """Segments that speak of the food."""
    company: frozenset[str]
    """Food words after "with" and the like: what comes with it."""
    loose: frozenset[str]
    """Food words of remarks that name something else."""


def asides_of(read: ReadLine) -> Asides:
    """Sort the segments of the line's own text."""
    elsewhere = {word for other in read.alternatives for word in words_of(other.match_text)}
    told: list[Sorted] = []
    company: set[str] = set()
    loose: set[str] = set()
    for text in _BREAKS.split(read.text[:LONGEST])[:_MOST]:
        words = words_of(_PACKS.sub(" ", text))
        words = tuple(w for w in words if w not in elsewhere and canonical_unit(w) is None)
        about = sorted_words(words)
        if not _LOOSE.isdisjoint(words):
            loose |= about.food - _LOOSE
            continue
        told.append(about)
        starts = [at for at, word in enumerate(words) if word in _COMPANY]
        if starts:
            company |= sorted_words(words[starts[0] + 1 :]).food
    return Asides(told=tuple(told), company=frozenset(company), loose=frozenset(loose))

"""What stands in a line beside the food itself: remarks, and names written backwards.

"Vinegar, balsamic" names the kind after the comma; "(or brown sugar)" names another food, "(I use
low sodium)" another form. The first tells which food is meant; the others only cast doubt.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from reformulate.measures import canonical_unit
from reformulate.recipes.matching.forms import NO_FORM, Form, joined
from reformulate.recipes.matching.text import Sorted, sorted_words
from reformulate.recipes.matching.words import LONGEST, words_of
from reformulate.recipes.reading import ReadLine
from reformulate.recipes.reading.slips import as_meant
from reformulate.recipes.reading.word_sets import word_set

_BRACKETS: Final = re.compile(r"[()\[\]{}]")
_BREAKS: Final = re.compile(r"[,;:–—/\n]| - ")
_PACKS: Final = re.compile(r"\b(?:can|cans|tin|tins|jar|jars)\b", re.IGNORECASE)
_HABIT: Final = word_set("use used using i we like love prefer preferred prefers actually")
"""Words by which a writer tells what went into the pan instead of what is listed."""
_LOOSE: Final = _HABIT | word_set("""
    or not never no instead substitute substituted replace such example eg if though but optional
    for you your my works
""")
"""Words of remarks that name something else than what is listed."""
_COMPANY: Final = frozenset({"with", "flavored", "flavoured", "stuffed", "topped", "in", "made"})
_MOST: Final = 12
"""Segments of a line that are looked at [count]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asides:
    """The words of a line, by the segments they stand in."""

    every: frozenset[str]
    """Every word of the line."""
    words: tuple[tuple[str, ...], ...]
    """Segments that speak of the food, their words in order."""
    told: tuple[Sorted, ...]
    """The same segments, sorted."""
    company: frozenset[str]
    """Food words after "with" and the like: what comes with it."""
    loose: frozenset[str]
    """Food words of remarks that name something else."""
    habit: Form
    """The form that a writer says was used."""


def asides_of(read: ReadLine) -> Asides:
    """Sort the segments of the line's own text."""
    elsewhere = {word for other in read.alternatives for word in words_of(other.match_text)}
    # A squeeze of lemon is its juice; a pot of cheese may be pot cheese.
    units = set(words_of(read.unit_text)) if read.juice_of else set()
    every: set[str] = set()
    ordered: list[tuple[str, ...]] = []
    company: set[str] = set()
    loose: set[str] = set()
    habit: Form = NO_FORM
    for words, is_loose in _segments(as_meant(read.text)):
        every.update(words)
        kept = tuple(
            w for w in words if w not in elsewhere and w not in units and canonical_unit(w) is None
        )
        about = sorted_words(kept)
        if is_loose:
            loose |= about.food - _LOOSE
            if not _HABIT.isdisjoint(words):
                habit = joined(habit, about.form)
            continue
        ordered.append(kept)
        starts = [at for at, word in enumerate(kept) if word in _COMPANY]
        if starts:
            company |= sorted_words(kept[starts[0] + 1 :]).food
    told = tuple(sorted_words(words) for words in ordered)
    return Asides(
        every=frozenset(every),
        words=tuple(ordered),
        told=told,
        company=frozenset(company),
        loose=frozenset(loose),
        habit=habit,
    )


def without_packs(remark: str) -> str:
    """Return a remark without its cans and jars: "can substitute" says nothing of a form."""
    return _PACKS.sub(" ", remark[:LONGEST])


def _segments(text: str) -> Iterator[tuple[tuple[str, ...], bool]]:
    """Yield the words of each segment, and whether it is a loose remark.

    A remark stays loose to the end of its bracket, or of the line outside brackets.
    """
    left = _MOST
    outside_is_loose = False
    for part, chunk in enumerate(_BRACKETS.split(text[:LONGEST])):
        is_loose = outside_is_loose if part % 2 == 0 else False
        for segment in _BREAKS.split(chunk):
            words = words_of(without_packs(segment))
            if not words or left <= 0:
                continue
            left -= 1
            is_loose = is_loose or not _LOOSE.isdisjoint(words)
            yield words, is_loose
        if part % 2 == 0:
            outside_is_loose = is_loose

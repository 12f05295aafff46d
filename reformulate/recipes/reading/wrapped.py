"""Lines that a mail or a narrow column broke in two, and steps that share a line."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from reformulate.recipes.reading.describing_words import Aspect, aspect_of
from reformulate.recipes.reading.line import read_line
from reformulate.recipes.reading.line_kinds import (
    bulleted,
    numbered,
    starts_with_verb,
    without_mark,
)
from reformulate.recipes.reading.lists import split_list
from reformulate.recipes.reading.scan import LONGEST

_NEXT: Final = frozenset({"then", "next", "first", "finally", "after", "now", "lastly"})
_FEWEST_WORDS: Final = 3
"""A shorter line heads the steps below it: Day 1."""
_LEADS_ON: Final = tuple(
    f" {word}"
    for word in ("and", "or", "then", "the", "a", "an", "to", "with", "in", "of", "until")
)
_PARTED: Final = re.compile(r"[^\W\d_]{2}-$")
"""A word parted at the end of a line: horse-."""
_POINT: Final = re.compile(r"[.!?](?:\s|$)")
_NEXT_NUMBER: Final = re.compile(r"(?<=[.!?)]) +([0-9]{1,2})[.)] +(?=[A-Z])")


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the text."""

    number: int
    """From 1."""
    text: str
    indent: int
    """How far it stands in [characters]."""

    def follows(self, other: Row) -> bool:
        """Whether no empty line stands between."""
        return self.number == other.number + 1


@dataclass(slots=True)
class Item:
    """An ingredient or a step, from one line or several."""

    first: Row
    last: Row
    text: str
    is_group: bool = False

    def extend(self, row: Row, text: str) -> None:
        """Add a line that goes on where this one ended."""
        parted = _PARTED.search(self.text) and text[:1].islower()
        self.last, self.text = row, self.text[:-1] + text if parted else f"{self.text} {text}"


def breaks_off(rows: Sequence[Row], at: int) -> bool:
    """Whether an amount stands by itself on a line, and its food on the next."""
    if at + 1 == len(rows) or not rows[at + 1].follows(rows[at]):
        return False
    read = read_line(rows[at].text)
    begun = bool(read.quantity_text and read.unit_text) and not read.food_text
    return begun and rows[at + 1].text[0].islower()


def goes_on(item: Item, row: Row) -> bool:
    """Whether a line goes on where an ingredient was broken."""
    if item.is_group or not row.follows(item.last) or len(item.text) > LONGEST:
        return False
    if bulleted(row.text) or numbered(row.text):
        return False
    text = item.text
    if text.count("(") > text.count(")") or text.endswith((",", ";", "-", " and", " or", " &")):
        return True
    if not row.text[0].islower() or read_line(row.text).quantity_text:
        return False
    if row.indent > item.first.indent or (text.endswith("ly") and _is_work(row.text)):
        return True
    last = read_line(re.split("[,;]", text)[-1])
    broken_off = bool(last.quantity_text) and not last.food_text
    return broken_off or len(split_list(item.last.text)) > 1


def _is_work(text: str) -> bool:
    """Whether a line only says what is done to a food: chopped, for garnish."""
    words = re.split(r"[^\w-]+", text.lower())
    return aspect_of(words[0]) is Aspect.DONE


def step_goes_on(item: Item, row: Row) -> bool:
    """Whether a line goes on where a step was broken, or follows its heading."""
    if numbered(row.text) or bulleted(row.text):
        return False
    if item.text.endswith(":"):
        return True
    ended = item.text.endswith((".", "!", "?"))
    if not ended and _is_a_step_of_its_own(item, row):
        return False
    return row.follows(item.last) and (not ended or without_mark(row.text)[0].islower())


def _is_a_step_of_its_own(item: Item, row: Row) -> bool:
    """Whether a line is the next step of a cook who sets no points.

    Where neither line has a point, one that starts with what to do is a step; likewise one whose
    first word had room on the line before, which was then not broken there.
    """
    if len(item.text.split()) < _FEWEST_WORDS:
        return False
    if not starts_with_verb(row.text) and row.text.lower().split()[0] not in _NEXT:
        return False
    last = item.last.text
    if last.lower().rstrip().endswith(_LEADS_ON) or last.endswith((",", ";", "-", "(")):
        return False
    pointed = _POINT.search(item.text) or _POINT.search(row.text)
    had_room = len(last) + 1 + len(row.text.split()[0]) <= len(row.text)
    return had_room or not pointed


def numbered_pieces(step: str) -> Iterator[str]:
    """Split steps that were numbered in one paragraph.

    Examples
    --------
    >>> list(numbered_pieces("Mix all. 2. Chill for 2 hours. 3. Serve."))
    ['Mix all.', 'Chill for 2 hours.', 'Serve.']
    """
    start, expected = 0, 2
    for match in _NEXT_NUMBER.finditer(step):
        if int(match[1]) == expected:
            yield step[start : match.start()].strip()
            start, expected = match.end(), expected + 1
    yield step[start:].strip()

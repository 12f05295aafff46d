"""Lines that a mail or a narrow column broke in two, and steps that share a line."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from reformulate.recipes.reading.line import read_line
from reformulate.recipes.reading.line_kinds import bulleted, numbered, without_mark
from reformulate.recipes.reading.lists import split_list
from reformulate.recipes.reading.scan import LONGEST

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
        self.last, self.text = row, f"{self.text} {text}"


def goes_on(item: Item, row: Row) -> bool:
    """Whether a line goes on where an ingredient was broken."""
    if item.is_group or not row.follows(item.last) or len(item.text) > LONGEST:
        return False
    if bulleted(row.text) or numbered(row.text):
        return False
    text = item.text
    if text.count("(") > text.count(")") or text.endswith((",", ";", " and", " or", " &")):
        return True
    if not row.text[0].islower() or read_line(row.text).quantity_text:
        return False
    if row.indent > item.first.indent:
        return True
    last = read_line(re.split("[,;]", text)[-1])
    broken_off = bool(last.quantity_text) and not last.food_text
    return broken_off or len(split_list(item.last.text)) > 1


def step_goes_on(item: Item, row: Row) -> bool:
    """Whether a line goes on where a step was broken, or follows its heading."""
    if numbered(row.text) or bulleted(row.text):
        return False
    if item.text.endswith(":"):
        return True
    ended = item.text.endswith((".", "!", "?"))
    return row.follows(item.last) and (not ended or without_mark(row.text)[0].islower())


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

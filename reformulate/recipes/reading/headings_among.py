"""The headings of a whole text: of several lists of ingredients, which is the recipe's."""

from __future__ import annotations

from collections.abc import Sequence

from reformulate.recipes.reading.headings import Part, part_of_heading
from reformulate.recipes.reading.line import read_line
from reformulate.recipes.reading.line_kinds import is_aside, is_ingredient
from reformulate.recipes.reading.wrapped import Row

Heading = tuple[Part, str] | None


def headings_of(rows: Sequence[Row]) -> list[Heading]:
    """Return for every line the part it heads, None for most.

    A heading of ingredients whose lines have no amounts heads a story where a list with amounts
    follows: what you'll need, and why.
    """
    found = [part_of_heading(row.text) for row in rows]
    lists = [i for i, heading in enumerate(found) if _opens_a_list(heading)]
    full = {i for i in lists if any(map(_states_an_amount, rows[i + 1 : _end(found, i)]))}
    for i in lists:
        heading = found[i]
        if i not in full and i < max(full, default=0) and heading and not heading[1]:
            found[i] = (Part.ASIDE, "")
    return found


def first_list(headings: Sequence[Heading]) -> int:
    """Return the place of the first heading of ingredients; the number of lines without one."""
    lists = (i for i, heading in enumerate(headings) if _opens_a_list(heading))
    return next(lists, len(headings))


def last_of(headings: Sequence[Heading], part: Part) -> int:
    """Return the place of the last heading of a part, -1 without one."""
    return max((i for i, found in enumerate(headings) if found and found[0] is part), default=-1)


def _opens_a_list(heading: Heading) -> bool:
    return heading is not None and heading[0] is Part.INGREDIENTS


def _end(found: Sequence[Heading], at: int) -> int:
    return next((i for i in range(at + 1, len(found)) if found[i]), len(found))


def _states_an_amount(row: Row) -> bool:
    return is_ingredient(row.text, read_line(row.text)) and not is_aside(row.text)

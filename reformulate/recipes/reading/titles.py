"""Which of the lines before a recipe is its title: a page has many that might be."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from reformulate.recipes.reading.chatter import opens_below
from reformulate.recipes.reading.headings import named_title, part_of_heading
from reformulate.recipes.reading.line import read_line
from reformulate.recipes.reading.line_kinds import (
    bulleted,
    is_aside,
    is_ingredient,
    is_instruction,
    may_be_a_title,
    names_a_food,
    numbered,
)
from reformulate.recipes.reading.scan import LONGEST
from reformulate.recipes.reading.servings import read_servings
from reformulate.recipes.reading.word_sets import word_set
from reformulate.recipes.reading.wrapped import Row

_DISHES: Final = word_set("""
    dip dips spread spreads pâté pate terrine rillettes tapenade guacamole fondue tzatziki raita
    muhammara ganoush ghanoush
""")
"""Words that name a dish of the kind, and seldom one of its ingredients."""
_TRAIL: Final = re.compile(r"[»›>|→]|\S {2,}\S.*\S {2,}\S")
"""How a page shows where its reader is, and its menu."""
_WORD: Final = re.compile(r"[^\W\d_]+")
_LED: Final = re.compile(r"(?P<title>[A-ZÀ-Þ][A-ZÀ-Þ'’& ,-]{3,60})\. +(?=[A-Z])")
_MOST_BEFORE: Final = 200
"""Lines among which a title is looked for [count]."""
_A_DISH, _FIRST, _TOLD_AFTER, _A_FOOD = 4, 2, 2, 1
"""What speaks for a line [points]."""


def title_among(rows: Sequence[Row], heading: int) -> Row | None:
    """Return the line before the first ingredient that is the likeliest title; None without one.

    A title names a dish, stands first, or is followed by servings and times; the name of a site,
    its menu and the headings of a story seldom do. Place ``heading`` is that of the first heading of
    ingredients, ``len(rows)`` where there is none.
    """
    first = _first_ingredient(rows) if heading == len(rows) else heading
    before = rows[:first][:_MOST_BEFORE]
    if any(_is_named(row.text) for row in before):
        return None
    points: dict[int, int] = {}
    for at, row in enumerate(before):
        following = rows[at + 1] if at + 1 < len(rows) else None
        if not _may_be(row, following, is_first=at == 0):
            continue
        words = [word.lower() for word in _WORD.findall(row.text[:LONGEST])]
        a_dish = len(words) > 1 and not _DISHES.isdisjoint(words) and not row.text[0].islower()
        points[at] = (
            _A_DISH * a_dish
            + _FIRST * (not points)
            + _TOLD_AFTER * (following is not None and _tells_of_it(following.text))
            + _A_FOOD * names_a_food(row.text)
        )
    if not points:
        return None
    return before[max(points, key=lambda at: (points[at], -at))]


def parted_title(text: str) -> tuple[str, ...]:
    """Part a title in capitals from the sentences that follow it on its line.

    Examples
    --------
    >>> parted_title("POTTED HAM. For six. Take a ham; mince it.")
    ('POTTED HAM', 'For six.', 'Take a ham; mince it.')
    """
    led = _LED.match(text)
    if led is None:
        return (text,)
    rest = text[led.end() :]
    first, point, others = rest.partition(". ")
    if others and read_servings(first) is not None:
        return led["title"], first + point.strip(), others.strip()
    return led["title"], rest


def _first_ingredient(rows: Sequence[Row]) -> int:
    return next((at for at, row in enumerate(rows) if _lists_a_food(row.text)), len(rows))


def _lists_a_food(text: str) -> bool:
    """Whether a line is an ingredient; the number of a page before some words makes it none."""
    read = read_line(text)
    known = read.unit_text or read.juice_of or names_a_food(text) or read.to_taste
    if not known or not is_ingredient(text, read):
        return False
    return not is_aside(text) and read_servings(text) is None


def _is_named(text: str) -> bool:
    named = named_title(text)
    return named is not None and not named.is_subject


def _may_be(row: Row, following: Row | None, *, is_first: bool) -> bool:
    text = row.text
    ended = text.endswith(".") and not text.endswith("..")
    if ended and is_first and (following is None or not following.follows(row)):
        text = text[:-1]
    listed = bulleted(text) or numbered(text)
    known = part_of_heading(text) is not None or opens_below(text) or is_aside(text)
    known = known or named_title(text) is not None
    if listed or known or _TRAIL.search(text) or not may_be_a_title(text):
        return False
    return not is_instruction(text) and read_servings(text) is None and not read_line(text).heading


def _tells_of_it(text: str) -> bool:
    """Whether a line gives servings, times or marks, as stands below a title."""
    return read_servings(text) is not None or is_aside(text)

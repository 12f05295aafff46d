"""A text of a page's data as plain text: no markup, no entities, nothing that cannot be seen."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from reformulate.recipes.pages.elements import elements
from reformulate.recipes.pages.flowing import lines_of
from reformulate.recipes.pages.markup import decode_entities
from reformulate.recipes.pages.notes import Notes

MOST_READ: Final = 200_000
"""Most characters read of one text of the data [count]."""
_ROUNDS: Final = 4
"""How often entities may be escaped over each other [count]."""

_LINES: Final = (
    "p|br|li|ol|ul|dl|dt|dd|div|h[1-6]|table|tbody|thead|tr|td|th|section|article|pre|hr"
)
_WITHIN: Final = (
    "a|abbr|b|big|blockquote|cite|code|del|em|font|i|img|ins|label|mark|s|small|span|strong|sub|"
    "sup|time|u|wbr"
)
_BLOCK = re.compile(rf"</?(?:{_LINES})(?=[\s/>])", re.IGNORECASE)
_MARKUP = re.compile(rf"</?(?:{_LINES}|{_WITHIN})(?=[\s/>])|<!--", re.IGNORECASE)
_SCRIPT = re.compile(r"</?(?:script|style)(?=[\s/>])", re.IGNORECASE)

_UNSEEN = re.compile(
    "[\x00-\x08\x0e-\x1b\x7f-\x84\x86-\x9f"  # control characters
    "\u00ad\u200b\u2060\ufeff"  # soft hyphen, spaces of no width
    "\u202a-\u202e\u2066-\u2069]"  # turns of direction, which would reach past the text
)
_HALVES = re.compile("[\ud800-\udfff]")
_BULLET = re.compile(r"^[\s•·‣◦▪●▢□☐*–—-]+(?=\s)\s*")


def tidy(text: str) -> str:
    """Return one line of text without characters that cannot be seen, white space as one space."""
    return " ".join(_HALVES.sub("\ufffd", _UNSEEN.sub("", text)).split())


def clean_lines(text: str) -> list[str]:
    """Return the lines of a text that may hold markup and entities, even escaped twice.

    A script that stands in it as markup is left out; one that is escaped is text and stays text.
    """
    text = text[:MOST_READ]
    for turn in range(_ROUNDS):
        if _MARKUP.search(text) or (turn == 0 and _SCRIPT.search(text)):
            keep = not _BLOCK.search(text)
            text = "\n".join(lines_of(elements(text, Notes()), keep_breaks=keep))
            continue
        decoded = decode_entities(text)
        if decoded == text:
            break
        text = decoded
    return [line for raw in re.split(r"[\n\r\v\f\x85\u2028\u2029]", text) if (line := tidy(raw))]


def clean(text: str) -> str:
    """Return a text as one line; see ``clean_lines``."""
    return " ".join(clean_lines(text))


def without_bullets(lines: list[str]) -> Iterator[str]:
    """Yield lines without the bullets or boxes to tick before them."""
    for line in lines:
        bare = _BULLET.sub("", line)
        if bare.strip("•·‣◦▪●▢□☐*–—-"):
            yield bare

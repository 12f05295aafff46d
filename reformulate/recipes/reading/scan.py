"""Cut a line into numbers, words and marks that remember where they stand.

Every later step works on these, so a line is looked at once, from left to right, and what is
shown to a person is always a piece of the text as written.
"""

from __future__ import annotations

import re
import unicodedata
from enum import Enum
from typing import Final, NamedTuple

LONGEST: Final = 1000
"""How much of one line is read [characters]; an ingredient line is seldom longer than 200."""


BULLETS: Final = (
    "-–—*•·‣⁃◦+♥♦→➢➤►"
    "\u2190-\u21ff\u25a0-\u25ff\u2600-\u27bf\ue000-\uf8ff\ufe0f\U0001f300-\U0001faff"
)
"""What lists begin their lines with, as the inside of a character class: dots, boxes, ticks, arrows,
pictures, and the letters of fonts of icons."""


class Sort(Enum):
    """What a token is."""

    NUMBER = "number"
    VULGAR = "vulgar fraction"
    WORD = "word"
    MARK = "mark"


class Token(NamedTuple):
    """One number, word or mark and its place in the tidied line."""

    sort: Sort
    text: str
    low: str
    """The text in lower case, with a straight apostrophe."""
    start: int
    end: int


_TOKEN: Final = re.compile(
    # A comma stands in a number only between digits: "1,000" and, as much of the world writes, "1,5".
    r"(?P<number>[0-9]{1,3}(?:,[0-9]{3})+(?![0-9])|[0-9]+(?:[.,][0-9]+)?|\.[0-9]+)"
    r"|(?P<vulgar>[¼-¾⅐-⅞↉])"
    r"|(?P<word>[^\W\d_¼-¾⅐-⅞]+(?:['’-][^\W\d_¼-¾⅐-⅞]+)*)"
    r"|(?P<mark>\S)"
)
_SORTS: Final = {
    "number": Sort.NUMBER,
    "vulgar": Sort.VULGAR,
    "word": Sort.WORD,
    "mark": Sort.MARK,
}


class _Tidying(dict[int, str]):
    """Characters that only look different, one for one, so that places stay the same."""

    def __missing__(self, code: int) -> str:
        char = chr(code)
        category = unicodedata.category(char)
        if category in {"Cc", "Cf", "Zs", "Zl", "Zp"}:
            return " "
        return str(unicodedata.decimal(char)) if category == "Nd" else char


_TIDY: Final = _Tidying(
    {
        **{ord(char): "-" for char in "‐‑−﹣－\u00ad"},
        **{ord(char): "/" for char in "⁄∕／"},
        **{ord(char): "'" for char in "‘’ʼ＇`´"},
        **{ord(char): plain for char, plain in zip("（），：；", "(),:;", strict=True)},
    }
)


def tidy(text: str) -> str:
    """Write spaces, slashes, hyphens and digits in one way; the length stays the same."""
    return text if text.isascii() and text.isprintable() else text.translate(_TIDY)


class _Controls(dict[int, str]):
    """Marks that steer a printer or the direction of writing, and show nothing."""

    def __missing__(self, code: int) -> str:
        char = chr(code)
        # Two joiners shape letters of several scripts, so they stay.
        if char in "\u200c\u200d" or unicodedata.category(char) not in {"Cc", "Cf", "Cs"}:
            return char
        return " " if char in "\t\v\f\x85" else ""


_CONTROLS: Final = _Controls()


def without_controls(text: str) -> str:
    """Return a text without NULs, byte order marks and other marks that show nothing."""
    return text if text.isascii() and text.isprintable() else text.translate(_CONTROLS)


def scan(line: str) -> list[Token]:
    """Return the tokens of a tidied line, in order; the time grows with its length only."""
    found = []
    for match in _TOKEN.finditer(line):
        text = match[0]
        sort = _SORTS[match.lastgroup or "mark"]
        found.append(Token(sort, text, text.lower(), match.start(), match.end()))
    return found

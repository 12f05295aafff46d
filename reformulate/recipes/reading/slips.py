"""Marks of a typesetter and slips of a scanner, put right letter for letter.

The length of a line stays the same, so that all places in it do. A scanner takes l and 1, O and 0
for one another; put right is only what cannot be meant as it stands.
"""

from __future__ import annotations

import re
from typing import Final

from reformulate.measures.words import canonical_unit

_EMPHASIS: Final = re.compile(
    r"\*\*|__|(?<![\w*])\*(?=[^\W_])|(?<=[^\W_]|[).!?])\*(?![\w*])"
    r"|(?<![^\W_])_(?=[^\W_])|(?<=[^\W_])_(?![^\W_])"
)
_LONE: Final = re.compile(
    r"(?P<before>^\W*)(?P<one>[lI|])(?= +(?P<next>[^\W\d_]+)|(?P<over>/[0-9]))"
)
_OVER: Final = re.compile(r"(?<![\w/])[lI|](?=/[0-9])")
_ONE_IN_WORD: Final = re.compile(r"(?<=[a-z]{2})1(?=[a-z]|\b)")
_NOUGHT_IN_WORD: Final = re.compile(r"(?<=[A-Za-z])0(?=[A-Za-z])")
_NOUGHT_BEFORE: Final = re.compile(r"(?<![\w.,/])0(?=([a-z]{2,})\b)")
_MAY_BE_A_SLIP: Final = re.compile(r"[A-Za-z][01]|0[a-z]|(?<!\w)[lI|](?=[ /])")
_SIZES: Final = frozenset({"small", "medium", "large", "lg", "sm", "med", "whole", "ripe", "can"})


def without_emphasis(line: str) -> str:
    """Blank out the stars and strokes by which a typed text says bold.

    Examples
    --------
    >>> without_emphasis("**40 g** crumbs, *dry*")
    '  40 g   crumbs,  dry '
    """
    if "*" not in line and "_" not in line:
        return line
    return _EMPHASIS.sub(lambda match: " " * len(match[0]), line)


def without_slips(line: str) -> str:
    """Put right letters and figures that a scanner took for one another.

    Examples
    --------
    >>> without_slips("l/2 cup olive 0il"), without_slips("I small red 0nion, ha1f")
    ('1/2 cup olive oil', '1 small red onion, half')
    >>> without_slips("I like 100g, in 0ml")
    'I like 100g, in 0ml'
    """
    if _MAY_BE_A_SLIP.search(line) is None:
        return line
    line = _LONE.sub(_one, _OVER.sub("1", line))
    line = _NOUGHT_IN_WORD.sub(_nought, _ONE_IN_WORD.sub("l", line))
    return _NOUGHT_BEFORE.sub(lambda found: "o" if canonical_unit(found[1]) is None else "0", line)


def _one(found: re.Match[str]) -> str:
    """Read a letter that opens a line as one; "I" opens sentences as well."""
    word = (found["next"] or "").lower()
    counts = bool(found["over"]) or found["one"] != "I" or word in _SIZES
    if counts or canonical_unit(found["next"] or "") is not None:
        return f"{found['before']}1"
    return found[0]


def _nought(found: re.Match[str]) -> str:
    return "O" if found.string[found.start() - 1].isupper() else "o"


def as_meant(line: str) -> str:
    """Return a line without emphasis and slips, of the same length."""
    return without_slips(without_emphasis(line))

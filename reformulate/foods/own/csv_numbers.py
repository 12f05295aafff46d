"""Numbers in the cells of a table: which mark parts its decimals, and what a cell says."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

UNKNOWN: Final = frozenset({"", "-", "–", "—", "?", "n/a", "na", "nd", "n.d.", "n", "null", "none"})
"""What a cell says of a figure that is not known."""

TRACE: Final = frozenset({"tr", "tr.", "trace", "traces"})
"""What a cell says of an amount too small to count: it counts as 0."""

_SPACES = re.compile(r"(?<=\d)[ \u00a0\u202f'’](?=\d{3}(?!\d))")
_PLAIN = re.compile(r"\d{1,15}(?:[.,]\d{1,15})?(?:e[+-]?\d{1,2})?", re.IGNORECASE)
_THOUSANDS = {
    ".": re.compile(r"[1-9]\d{0,2}(?:,\d{3})+(?:\.\d{1,15})?"),
    ",": re.compile(r"[1-9]\d{0,2}(?:\.\d{3})+(?:,\d{1,15})?"),
}
_MAY_BE_THOUSANDS = re.compile(r"[1-9]\d{0,2}[.,]\d{3}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """What a cell says of a figure."""

    amount: float | None = None
    """[unit of its column]; None where it is not known."""
    below: bool = False
    """Whether it says "less than" the amount."""


def decimal_marks(texts: Iterable[str]) -> dict[str, int]:
    """Return the decimal marks that some cells can only mean, with the place of the first such.

    ``12,5`` tells of a comma, ``1.234,5`` too; ``1,234`` and ``1.234`` tell nothing.
    """
    found: dict[str, int] = {}
    for place, text in enumerate(texts):
        bare = _bare(text)
        mark = _mark_of(bare)
        if mark and mark not in found:
            found[mark] = place
    return found


def read_cell(text: str, mark: str) -> Cell | None:
    """Read a cell of figures; None where it is none, or may mean two numbers.

    Parameters
    ----------
    text
        The cell.
    mark
        What parts decimals in this table, ``.`` or ``,``; "" where no cell tells.

    Examples
    --------
    >>> read_cell("1 234,5", ","), read_cell("<0.1", ".")
    (Cell(amount=1234.5, below=False), Cell(amount=0.1, below=True))
    >>> read_cell("1,234", "")
    """
    bare = _bare(text)
    if bare.lower() in UNKNOWN:
        return Cell()
    if bare.lower() in TRACE:
        return Cell(amount=0.0)
    below = bare.startswith("<")
    number = _SPACES.sub("", bare.removeprefix("<").strip())
    if may_be_two(number, mark):
        return None
    if mark and _THOUSANDS[mark].fullmatch(number):
        number = number.replace("," if mark == "." else ".", "")
    elif not _PLAIN.fullmatch(number) or (mark and ("," if mark == "." else ".") in number):
        return None
    return Cell(amount=float(number.replace(",", ".")), below=below)


def may_be_two(text: str, mark: str) -> bool:
    """Whether a text is ``1,234`` in a table that does not tell what its commas are."""
    return not mark and "," in text and _MAY_BE_THOUSANDS.fullmatch(text) is not None


def _bare(text: str) -> str:
    return text.strip().strip("\u00a0\u202f\ufeff").strip() if len(text) <= 60 else text[:61]


def _mark_of(bare: str) -> str:
    number = _SPACES.sub("", bare.removeprefix("<").strip())
    if _MAY_BE_THOUSANDS.fullmatch(number):
        return ""
    if _PLAIN.fullmatch(number):
        return "," if "," in number else "." if "." in number else ""
    for mark, pattern in _THOUSANDS.items():
        other = "," if mark == "." else "."
        if pattern.fullmatch(number) and (mark in number or number.count(other) > 1):
            return mark
    return ""

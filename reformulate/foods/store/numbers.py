"""Numbers as files write them; a blank is no number and no fault."""

from __future__ import annotations

import math

_LONGEST = 40


def number(text: str) -> float | None:
    """Return the number ``text`` writes, or None where it writes none.

    >>> number(" 1.5 "), number("1e3"), number("1_0"), number("nan"), number("")
    (1.5, 1000.0, None, None, None)
    """
    if len(text) > _LONGEST or "_" in text:
        return None
    try:
        found = float(text)
    except ValueError:
        return None
    return found if math.isfinite(found) else None


def identity(text: str, digits: int = 8) -> int | None:
    """Return the identity ``text`` writes: digits alone, ``digits`` at most; None for anything else.

    >>> identity("01009"), identity("-3"), identity("1.0"), identity("123456789")
    (1009, None, None, None)
    """
    bare = text.strip()
    if not (bare.isascii() and bare.isdigit() and len(bare) <= digits):
        return None
    return int(bare)


class Identities:
    """A set of identities of up to eight digits, one bit each: 12.5 MB however many there are."""

    def __init__(self) -> None:
        self._bits = bytearray()

    def __contains__(self, identity: int) -> bool:
        at = identity >> 3
        return at < len(self._bits) and bool(self._bits[at] >> (identity & 7) & 1)

    def add(self, identity: int) -> bool:
        """Add ``identity``; return whether it is new."""
        at, bit = identity >> 3, 1 << (identity & 7)
        if at >= len(self._bits):
            self._bits.extend(bytes(at + 1 - len(self._bits)))
        new = not self._bits[at] & bit
        self._bits[at] |= bit
        return new

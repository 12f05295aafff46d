"""Phrases in a row, which break between phrases only."""

from __future__ import annotations

from collections.abc import Iterable

NO_BREAK = "\u00a0"
"""A space at which no line ends."""


def in_a_row(phrases: Iterable[str]) -> str:
    """Join phrases for a label: ``+14 g yogurt · −9 g cream cheese``."""
    return f"{NO_BREAK}· ".join(phrase.replace(" ", NO_BREAK) for phrase in phrases)

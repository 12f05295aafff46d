"""What is to be said about a page: each sentence once, and not without end."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

MOST_NOTES: Final = 40
"""Most sentences kept of a page [count]; nobody reads more."""


class Notes:
    """A growing list of sentences."""

    def __init__(self) -> None:
        self._said: dict[str, None] = {}
        self._more = 0

    def add(self, sentence: str) -> None:
        """Say a sentence, unless it was said already."""
        if sentence in self._said:
            return
        if len(self._said) < MOST_NOTES:
            self._said[sentence] = None
        else:
            self._more += 1

    def __iter__(self) -> Iterator[str]:
        yield from self._said
        if self._more:
            yield f"There is more to say about this page: {self._more} notes are not shown."


def short(text: str, most: int = 60) -> str:
    """Return text that fits a sentence, its middle left out if need be."""
    flat = " ".join(text[: 4 * most].split())
    if len(flat) <= most and len(text) <= 4 * most:
        return flat
    return f"{flat[: most - 3].rstrip()}..."

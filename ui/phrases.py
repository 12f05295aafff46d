"""Phrases as labels, tips and menus show them."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

NO_BREAK = "\u00a0"
"""A space at which no line ends."""


def in_a_row(phrases: Iterable[str], *, whole: bool = True) -> str:
    """Join phrases for a label: ``+14 g yogurt · −9 g cream cheese``.

    Lines end between phrases only, or, unless phrases are to stay ``whole``, between their words
    too, but not within ``± 15 %``.
    """
    bound = (_bound(phrase) if not whole else phrase.replace(" ", NO_BREAK) for phrase in phrases)
    return f"{NO_BREAK}· ".join(bound)


def _bound(phrase: str) -> str:
    return phrase.replace("± ", f"±{NO_BREAK}").replace(" %", f"{NO_BREAK}%")


def sentence_case(words: str) -> str:
    """Begin with a capital letter."""
    return words[:1].upper() + words[1:]


def plain_tip(text: str) -> str:
    """Return a tip that shows ``text`` as it stands; Qt would take a "<b>" in it for markup."""
    if "<" not in text:
        return text
    return f"<qt>{escape(text, quote=False)}</qt>".replace("\n", "<br>")


def plain_entry(text: str) -> str:
    """Return a menu entry that shows ``text`` as it stands; Qt would take an "&" in it for a key."""
    return text.replace("&", "&&")

"""Keys of own foods: none of them is the key of another kind of food."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection
from typing import Final

from reformulate.foods.plain_text import without_accents

PREFIX: Final = "own:"
"""What every own food's key begins with, and no other food's."""

LONGEST_KEY: Final = 64
"""Most characters of a key [count]."""

_KEY = re.compile(r"own:[^\W_]+(?:-[^\W_]+)*")
_WORD = re.compile(r"[^\W_]+")


def own_key(name: str, taken: Collection[str] = ()) -> str:
    """Return a key for a food of that name which is not ``taken``.

    >>> own_key("Crème fraîche, light (30 %)")
    'own:creme-fraiche-light-30'
    >>> own_key("Salsa", {"own:salsa"})
    'own:salsa-2'
    """
    words = _WORD.findall(_composed(_composed(name[:200]).lower())) or ["food"]
    base = PREFIX + "-".join(words)[: LONGEST_KEY - 12].strip("-")
    key, number = base, 1
    while key in taken:
        number += 1
        key = f"{base}-{number}"
    return key


def is_own_key(key: str) -> bool:
    """Whether a key is one an own food may have: ``own:`` and small words joined by hyphens."""
    return len(key) <= LONGEST_KEY and key == key.lower() and _KEY.fullmatch(key) is not None


def _composed(text: str) -> str:
    """Return a text without accents, what is left of a letter's parts in one again."""
    return unicodedata.normalize("NFC", without_accents(text))

"""Names as a search of the store compares them."""

from __future__ import annotations

import re

from reformulate.foods.plain_text import folded

_WORD = re.compile(r"[^\W_]+")
_LONGEST_WORD = 40  # letters of a word that count
_LONGEST_TYPED = 200


def words_of(text: str) -> list[str]:
    """Return the words of ``text`` in lower case without accents and apostrophes.

    >>> words_of("Crème fraîche, goat's")
    ['creme', 'fraiche', 'goats']
    """
    return [word[:_LONGEST_WORD] for word in _WORD.findall(folded(text))]


def typed_words(text: str) -> list[str]:
    """Return the words of what was typed; the ``ndb:`` of a key says nothing of its own."""
    bare = text[:_LONGEST_TYPED].strip()
    return words_of(re.sub(r"^(?:ndb|fdc):", "", bare, flags=re.IGNORECASE))


def indexed(name: str, words: str, key: str) -> str:
    """Return all that a food is found by, each word once."""
    number = key.partition(":")[2]
    return " ".join(dict.fromkeys([*words_of(name), *words_of(words), *words_of(number)]))

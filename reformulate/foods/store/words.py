"""Names as a search compares them, and names as they are kept."""

from __future__ import annotations

import re
import unicodedata

_WORD = re.compile(r"[^\W_]+")
_UNSEEN = re.compile(
    r"[\x00-\x1f\x7f-\x9f\ud800-\udfff\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]+"
)
_LONGEST_WORD = 40  # letters of a word that count
_LONGEST_NAME = 240
_LONGEST_TYPED = 200


def clean(text: str, longest: int = _LONGEST_NAME) -> str:
    """Return ``text`` on one line, without what cannot be seen, ``longest`` characters at most.

    Marks that turn the direction of writing go too: they would turn the rest of a line.
    """
    plain = " ".join(_UNSEEN.sub(" ", text[: 4 * longest]).split())
    return plain if len(plain) <= longest else plain[: longest - 1].rstrip() + "…"


def words_of(text: str) -> list[str]:
    """Return the words of ``text`` in lower case without accents and apostrophes.

    >>> words_of("Crème fraîche, goat's")
    ['creme', 'fraiche', 'goats']
    """
    bare = text.casefold().replace("'", "").replace("’", "")
    if not bare.isascii():
        parts = unicodedata.normalize("NFKD", bare)
        bare = "".join(letter for letter in parts if not unicodedata.combining(letter))
    return [word[:_LONGEST_WORD] for word in _WORD.findall(bare)]


def typed_words(text: str) -> list[str]:
    """Return the words of what was typed; the ``ndb:`` of a key says nothing of its own."""
    bare = text[:_LONGEST_TYPED].strip()
    return words_of(re.sub(r"^(?:ndb|fdc):", "", bare, flags=re.IGNORECASE))


def indexed(name: str, words: str, key: str) -> str:
    """Return all that a food is found by, each word once."""
    number = key.partition(":")[2]
    return " ".join(dict.fromkeys([*words_of(name), *words_of(words), *words_of(number)]))

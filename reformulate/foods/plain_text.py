"""Texts from outside made plain: on one line, or as a comparison of words needs them."""

from __future__ import annotations

import re
import unicodedata
from typing import Final

_UNSEEN: Final = re.compile(
    r"[\x00-\x1f\x7f-\x9f\ud800-\udfff\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]+"
)
_APOSTROPHES: Final = str.maketrans("", "", "'’‘`´")
_LONGEST_NAME: Final = 240


def clean(text: str, longest: int = _LONGEST_NAME) -> str:
    """Return ``text`` on one line, without what cannot be seen, ``longest`` characters at most.

    Marks that turn the direction of writing go too: they would turn the rest of a line.
    """
    plain = " ".join(_UNSEEN.sub(" ", text[: 4 * longest]).split())
    return plain if len(plain) <= longest else plain[: longest - 1].rstrip() + "…"


def without_accents(text: str) -> str:
    """Return a text with every letter in its plainest form.

    >>> without_accents("Gruyère ½")
    'Gruyere 1⁄2'
    """
    if text.isascii():
        return text
    parts = unicodedata.normalize("NFKD", text)
    return "".join(letter for letter in parts if not unicodedata.combining(letter))


def folded(text: str) -> str:
    """Return a text as names are compared: lower case, without accents or apostrophes.

    >>> folded("Crème fraîche, goat's")
    'creme fraiche, goats'
    """
    return without_accents(text.casefold().translate(_APOSTROPHES))


def sentence_case(name: str) -> str:
    """Return a name that a release shouts as a sentence has it.

    >>> sentence_case("BUTTER,WITH SALT")
    'Butter, with salt'
    """
    return re.sub(r",\s*", ", ", name).strip().capitalize()

"""What the file of a new recipe is called."""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import Final

from reformulate.foods.plain_text import folded

LONGEST: Final = 60
"""Longest name without its ending [characters]."""

_NOT_PLAIN: Final = re.compile(r"[^a-z0-9]+")
_RESERVED: Final = frozenset(
    {
        "set",
        "foods",
        "con",
        "prn",
        "aux",
        "nul",
        *(f"{port}{n}" for port in ("com", "lpt") for n in range(10)),
    }
)
"""The set's own files, and names that some systems keep for devices."""


def document_name(title: str, taken: Collection[str] = ()) -> str:
    """Return a file name for a recipe that none of the ``taken`` names is, in any case of letters.

    >>> document_name("Odile's Bean & Chile Dip!", {"odiles-bean-chile-dip.toml"})
    'odiles-bean-chile-dip-2.toml'
    """
    stem = _NOT_PLAIN.sub("-", folded(title)).strip("-")
    if len(stem) > LONGEST:
        whole_words = stem[: LONGEST + 1].rpartition("-")[0]
        stem = (whole_words or stem[:LONGEST]).strip("-")
    if not stem or stem in _RESERVED:
        stem = f"{stem}-recipe".lstrip("-")
    names = {name.casefold() for name in taken}
    name, number = f"{stem}.toml", 1
    while name in names:
        number += 1
        name = f"{stem}-{number}.toml"
    return name

"""The unit words of amounts: one canonical word each, how cooks spell it, its plural."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Final


class Kind(Enum):
    """What a unit measures, and so how it comes to grams."""

    MASS = "mass"
    VOLUME = "volume"
    PACK = "pack"
    """Sold by net weight, so a size in brackets may follow."""
    COUNT = "count"


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitWord:
    """One canonical unit word."""

    word: str
    kind: Kind
    plural: str
    """As written for more than one; abbreviations have none of their own."""
    spellings: tuple[str, ...] = ()
    """Further spellings in lower case, without full stops."""


def _abbreviated(kind: Kind, word: str, *spellings: str) -> UnitWord:
    return UnitWord(word=word, kind=kind, plural=word, spellings=spellings)


def _named(kind: Kind, word: str, plural: str = "", *spellings: str) -> UnitWord:
    return UnitWord(word=word, kind=kind, plural=plural or f"{word}s", spellings=spellings)


_WORDS: Final = (
    _abbreviated(Kind.MASS, "g", "gram", "grams", "gramme", "grammes", "gm", "gms", "gr"),
    _abbreviated(Kind.MASS, "kg", "kilo", "kilos", "kilogram", "kilograms", "kgs"),
    _abbreviated(Kind.MASS, "mg", "milligram", "milligrams"),
    _abbreviated(Kind.MASS, "oz", "ounce", "ounces", "ozs"),
    _abbreviated(Kind.MASS, "lb", "lbs", "pound", "pounds"),
    _named(Kind.VOLUME, "cup", "cups", "c"),
    _abbreviated(
        Kind.VOLUME, "tbsp", "tbsps", "tbs", "tbl", "tblsp", "tablespoon", "tablespoons", "tbspn"
    ),
    _abbreviated(Kind.VOLUME, "tsp", "tsps", "teaspoon", "teaspoons", "tspn"),
    _named(Kind.VOLUME, "dessertspoon", "dessertspoons", "dsp", "dssp", "dstspn"),
    _abbreviated(Kind.VOLUME, "fl oz", "floz", "fluid ounce", "fluid ounces", "fl ounce"),
    _named(Kind.VOLUME, "pint", "pints", "pt", "pts"),
    _named(Kind.VOLUME, "quart", "quarts", "qt", "qts"),
    _named(Kind.VOLUME, "gallon", "gallons", "gal", "gals"),
    _abbreviated(
        Kind.VOLUME, "ml", "mls", "millilitre", "millilitres", "milliliter", "milliliters", "cc"
    ),
    _abbreviated(Kind.VOLUME, "cl", "centilitre", "centilitres", "centiliter", "centiliters"),
    _abbreviated(Kind.VOLUME, "dl", "decilitre", "decilitres", "deciliter", "deciliters"),
    _abbreviated(Kind.VOLUME, "l", "ltr", "litre", "litres", "liter", "liters"),
    _named(Kind.VOLUME, "dash", "dashes"),
    _named(Kind.VOLUME, "pinch", "pinches"),
    _named(Kind.VOLUME, "smidgen", "smidgens", "smidgeon", "smidgeons"),
    _named(Kind.PACK, "can"),
    _named(Kind.PACK, "tin"),
    _named(Kind.PACK, "jar"),
    _named(Kind.PACK, "pack", "packs", "package", "packages", "packet", "packets", "pkg", "pkt"),
    _named(Kind.PACK, "tub"),
    _named(Kind.PACK, "bottle"),
    _named(Kind.PACK, "carton"),
    _named(Kind.PACK, "box", "boxes"),
    _named(Kind.PACK, "bag"),
    _named(Kind.PACK, "pouch", "pouches"),
    _named(Kind.PACK, "brick"),
    _named(Kind.PACK, "block"),
    _named(Kind.PACK, "stick"),
    _named(Kind.PACK, "container"),
    _named(Kind.COUNT, "piece", "pieces", "pc", "pcs", "each", "whole"),
    _named(Kind.COUNT, "clove"),
    _named(Kind.COUNT, "slice"),
    _named(Kind.COUNT, "head"),
    _named(Kind.COUNT, "bulb"),
    _named(Kind.COUNT, "bunch", "bunches"),
    _named(Kind.COUNT, "handful"),
    _named(Kind.COUNT, "sprig"),
    _named(Kind.COUNT, "leaf", "leaves"),
    _named(Kind.COUNT, "stalk"),
    _named(Kind.COUNT, "rib"),
    _named(Kind.COUNT, "spear"),
    _named(Kind.COUNT, "floret"),
    _named(Kind.COUNT, "fillet", "fillets", "filet", "filets"),
    _named(Kind.COUNT, "strip"),
    _named(Kind.COUNT, "wedge"),
    _named(Kind.COUNT, "ear"),
    _named(Kind.COUNT, "pod"),
    _named(Kind.COUNT, "root"),
    _named(Kind.COUNT, "ring"),
    _named(Kind.COUNT, "cube"),
    _named(Kind.COUNT, "sheet"),
    _named(Kind.COUNT, "link"),
    _named(Kind.COUNT, "pat"),
    _named(Kind.COUNT, "loaf", "loaves"),
    _named(Kind.COUNT, "roll"),
    _named(Kind.COUNT, "cracker"),
    _named(Kind.COUNT, "scoop"),
    _named(Kind.COUNT, "drop"),
)

UNITS: Final[dict[str, UnitWord]] = {found.word: found for found in _WORDS}
"""Every unit word by its canonical form."""

SPELLINGS: Final[dict[str, str]] = {
    spelling: found.word
    for found in _WORDS
    for spelling in (found.word, found.plural, *found.spellings)
}
"""Canonical word of every spelling."""

QUALIFIERS: Final = ("small", "medium", "large", "extra large", "jumbo", "packed")
"""Words that say which measure of a unit is meant; all others belong to the preparation."""

METRIC: Final = frozenset({"g", "kg", "mg", "ml", "cl", "dl", "l"})
"""Units whose parts cooks write as decimals."""

# Only here does the case of a letter tell: the trade's T is a tablespoon and t a teaspoon.
_CASED: Final = {"T": "tbsp", "Tb": "tbsp", "t": "tsp"}


def canonical_unit(word: str) -> str | None:
    """Return the canonical unit word for a spelling ("Tbsp.", "litres", "fl. oz."), or None.

    Examples
    --------
    >>> canonical_unit("Tablespoons"), canonical_unit("T."), canonical_unit("fl. oz.")
    ('tbsp', 'tbsp', 'fl oz')
    """
    plain = " ".join(word.replace(".", " ").split())
    return _CASED.get(plain) or SPELLINGS.get(plain.lower())


def kind_of(unit: str) -> Kind | None:
    """Return what the canonical word ``unit`` measures; None for a word that is no unit of ours."""
    found = UNITS.get(unit)
    return found.kind if found else None

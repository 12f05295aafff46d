"""What a reading gives: an amount, a line, a question; always beside the text as written."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class About(Enum):
    """What a question is about."""

    AMOUNT = "amount"
    SIZE = "size"
    FOOD = "food"
    LINE = "line"


@dataclass(frozen=True, slots=True)
class Ask:
    """A question that only a person can answer."""

    about: About
    question: str

    def __str__(self) -> str:
        return self.question


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadAmount:
    """One amount in a line."""

    text: str
    """As written, with its unit."""
    quantity: float | tuple[float, float] | None
    """A number, or the ends of a range [units]; None where none is known."""
    quantity_text: str
    """The number as written: "1 1/2", "half a"; "" where one is only meant."""
    unit_text: str = ""
    """The unit as written."""
    unit: str = ""
    """Canonical unit word; "piece" for a bare count, "" where household measures have none."""
    qualifier: str = ""
    """Which measure of the unit: "large", "packed" ..."""
    amount: str = ""
    """The amount for a recipe line, a range by its middle; "" where it cannot be written so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadLine:
    """One ingredient line, taken apart.

    Everything that was not understood is in ``comment`` or in ``asks``; nothing is dropped in
    silence, and ``text`` is the line to the letter.
    """

    text: str
    quantity: float | tuple[float, float] | None = None
    """A number, or the ends of a range [units]; None where the amount is unknown."""
    quantity_text: str = ""
    """The words of the quantity as written."""
    unit_text: str = ""
    unit: str = ""
    """Canonical unit word; "piece" for a bare count, "" where household measures have none."""
    qualifier: str = ""
    food_text: str = ""
    """The words of the food alone."""
    match_text: str = ""
    """The food with the words that tell which one is meant: canned, dried, sweet, low-fat."""
    prep: str = ""
    comment: str = ""
    optional: bool = False
    divided: bool = False
    to_taste: bool = False
    """Whether the line leaves the amount to the cook."""
    pinch: bool = False
    """Whether the amount is a pinch, a dash or a smidgen: known, but hardly measured."""
    and_extra: bool = False
    """Whether more of it is used than the amount says: "plus more for dusting"."""
    each: bool = False
    """Whether the amount is said to hold for each food of the line."""
    pack: ReadAmount | None = None
    """The size of one pack or piece."""
    other: ReadAmount | None = None
    """The same amount in other measures."""
    more: ReadAmount | None = None
    """A second amount that is added to the first."""
    juice_of: str = ""
    """The fruit, where only its juice or peel is used."""
    alternatives: tuple[ReadLine, ...] = ()
    """Foods that may stand in this one's place, each with its own amount."""
    also: tuple[ReadLine, ...] = ()
    """Further foods of the same line: "salt and pepper"."""
    heading: bool = False
    amount: str = ""
    """The amount in the grammar of ``parse_amount``; "" where a person must say it."""
    remarks: tuple[str, ...] = ()
    """What was decided in the reading, in plain words."""
    asks: tuple[Ask, ...] = ()
    quantities: tuple[str, ...] = ()
    """Every quantity of the line as written, in order, with those of packs and alternatives."""
    units: tuple[str, ...] = ()
    """Every unit of the line as written, in order."""
    foods: tuple[str, ...] = ()
    """Every food of the line as written, in order."""

"""Put an amount that was found in a line into values, and into the grammar of recipe lines."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from reformulate.errors import BadInput
from reformulate.measures.amount import Amount, Term
from reformulate.measures.words import METRIC, QUALIFIERS, UNITS, Kind
from reformulate.recipes.reading.found import Found
from reformulate.recipes.reading.quantity import Quantity
from reformulate.recipes.reading.scan import Token
from reformulate.recipes.reading.values import ReadAmount

_DOZENS: Final = frozenset({"dozen", "doz"})
_LOOSE: Final = frozenset({"lightly", "loosely"})
_OF_NO_KNOWN_SIZE: Final = ("-sized", "-size")
"""Endings of words such as thumb-sized, after which a piece is anybody's guess."""
_QUALIFIED: Final = {
    "lg": "large",
    "med": "medium",
    "sm": "small",
    "extra-large": "extra large",
    "xl": "extra large",
    "medium-sized": "medium",
    "large-sized": "large",
    "small-sized": "small",
    "medium-size": "medium",
    "large-size": "large",
}


def numbers_of(quantity: Quantity | None) -> float | tuple[float, float] | None:
    """Return the quantity as a number, or as the ends of its range."""
    if quantity is None:
        return None
    if quantity.low == quantity.high:
        return float(quantity.low)
    return float(quantity.low), float(quantity.high)


def qualifier_of(words: Sequence[str]) -> str:
    """Return the first word that says which measure of a unit is meant."""
    for word in words:
        plain = _QUALIFIED.get(word, word)
        if plain in QUALIFIERS and not (plain == "packed" and _LOOSE.intersection(words)):
            return plain
    return ""


def text_of(line: str, tokens: Sequence[Token], first: int, last: int) -> str:
    """Return the piece of the line from token ``first`` to before ``last``, as written."""
    return line[tokens[first].start : tokens[last - 1].end] if first < last else ""


def quantity_text(line: str, tokens: Sequence[Token], found: Found) -> str:
    """Return the words of the quantity, without an article that only leads to the unit."""
    if found.quantity is None:
        return ""
    return text_of(line, tokens, found.quantity.first, found.quantity.last)


def unit_text(line: str, tokens: Sequence[Token], found: Found) -> str:
    """Return the unit as written, without the full stop of an abbreviation."""
    if found.unit is None:
        return ""
    return text_of(line, tokens, found.unit.first, found.unit.last).rstrip(".")


def read_amount(line: str, tokens: Sequence[Token], found: Found) -> ReadAmount:
    """Return the value of an amount; a sum or a second measure in it has its own."""
    return ReadAmount(
        text=text_of(line, tokens, found.first, found.last),
        quantity=numbers_of(found.quantity),
        quantity_text=quantity_text(line, tokens, found),
        unit_text=unit_text(line, tokens, found),
        unit=unit_word(found),
        qualifier=qualifier_of(found.qualifiers),
        amount=written(line, tokens, (found,)),
    )


def unit_word(found: Found) -> str:
    """Return the canonical unit word; "piece" for a bare count."""
    return found.unit.unit if found.unit is not None else "piece"


def written(
    line: str, tokens: Sequence[Token], parts: Sequence[Found], sizes: Sequence[str] = ()
) -> str:
    """Write amounts that add up in the grammar of ``parse_amount``.

    Parameters
    ----------
    line, tokens
        Where the amounts stand.
    parts : sequence of Found
        What is added up.
    sizes : sequence of str
        Size words that stand with the food: "large" in "2 large eggs".

    Returns
    -------
    str
        "" where one part cannot be written so.
    """
    terms = []
    for found in parts:
        term = _term(line, tokens, found, sizes)
        if term is None:
            return ""
        terms.append(term)
    return str(Amount(tuple(terms))) if terms else ""


def _term(line: str, tokens: Sequence[Token], found: Found, sizes: Sequence[str]) -> Term | None:
    number = found.middle
    unit = unit_word(found)
    if found.unit is not None and tokens[found.unit.first].low in _DOZENS:
        number, unit = number * 12, "piece"
    size = found.size
    if size is not None and size.is_weighed and not unit:
        one = _term(line, tokens, size, ())
        return _times(number, one) if one is not None else None
    if not unit or _is_as_large_as(found.qualifiers):
        return None
    a_range = found.quantity is not None and found.quantity.low != found.quantity.high
    marked = any(mark in quantity_text(line, tokens, found) for mark in ".,")
    decimal = marked or (a_range and unit in METRIC)
    if size is not None and size.is_length(tokens) and found.unit is not None:
        # A piece of so many inches: nobody knows what it weighs.
        return None
    if size is not None and size.is_weighed:
        return _sized(number, unit, found, size, line, tokens)
    counted = UNITS[unit].kind is Kind.COUNT
    words = (*found.qualifiers, *sizes) if counted else found.qualifiers
    try:
        return Term(quantity=number, unit=unit, qualifier=qualifier_of(words), decimal=decimal)
    except BadInput:
        return None


def _sized(
    number: Fraction, unit: str, found: Found, size: Found, line: str, tokens: Sequence[Token]
) -> Term | None:
    """Write a pack with its size, and anything else by its whole weight."""
    one = _term(line, tokens, size, ())
    if one is None:
        return None
    try:
        if UNITS[unit].kind is Kind.PACK:
            return Term(
                quantity=number,
                unit=unit,
                qualifier=qualifier_of(found.qualifiers),
                size=Term(quantity=one.quantity, unit=one.unit, decimal=one.decimal),
            )
    except BadInput:
        return None
    return _times(number, one)


def _times(number: Fraction, one: Term) -> Term | None:
    """Write so many of a weight, or of a volume, as one amount."""
    try:
        return Term(quantity=number * one.quantity, unit=one.unit, decimal=one.decimal)
    except BadInput:
        return None


def _is_as_large_as(qualifiers: Sequence[str]) -> bool:
    """Whether a piece is said to be as large as a thumb, a walnut, a bite."""
    return any(word.endswith(_OF_NO_KNOWN_SIZE) and word not in _QUALIFIED for word in qualifiers)

"""Packs and pieces of a stated size: 15-oz cans, 1 (#10) can, half of a 250 g tub."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from reformulate.measures.words import Kind
from reformulate.recipes.reading.found import WEIGHED, Found
from reformulate.recipes.reading.quantity import Quantity, quantity_at, word_at
from reformulate.recipes.reading.scan import Sort, Token
from reformulate.recipes.reading.unit_words import LENGTHS, UnitFound, unit_at

_HYPHENS: Final = frozenset({"-", "–"})
_PIECES: Final = frozenset({"piece", "slice", "strip", "cube"})
"""Units of which a length says how large one is."""
_FEW_PACKS: Final = 6
_LONGEST_ASIDE: Final = 8


def past_of_a(tokens: Sequence[Token], found: Found, quantity: Quantity) -> int:
    """Step over "of a" in "1/2 of a 6 oz can", which is half of one can."""
    at = found.last
    if quantity.high >= 1:
        return at
    after = at + (word_at(tokens, at) == "of")
    return after + 1 if word_at(tokens, after) in {"a", "an", "one"} else at


def past_aside(tokens: Sequence[Token], found: Found, at: int) -> int:
    """Step over what says which pack is meant: 1 (#10) can, 1 No. 2 can, 2 (drained) tins."""
    end = at
    if word_at(tokens, at) == "(":
        first = at + 1
        while end < min(len(tokens), at + _LONGEST_ASIDE) and tokens[end].text != ")":
            end += 1
        last = end
        end += 1
    else:
        first = at
        end += word_at(tokens, at) in {"#", "no", "number"}
        end += end > at and word_at(tokens, end) == "."
        numbered = end > at and end < len(tokens) and tokens[end].sort is Sort.NUMBER
        last = end = end + 1 if numbered else at
    unit = unit_at(tokens, end) if end > at else None
    if unit is None or unit.kind is not Kind.PACK:
        return at
    found.aside = (first, last)
    return end


def size_before_pack(tokens: Sequence[Token], at: int) -> Found | None:
    """Read "15-oz" in "1 15-oz can", "6 oz" in "4 6-oz fillets"."""
    if at >= len(tokens) or tokens[at].sort not in {Sort.NUMBER, Sort.VULGAR}:
        return None
    quantity = quantity_at(tokens, at)
    if quantity is None:
        return None
    unit = unit_at(tokens, past_hyphen(tokens, quantity.last))
    if unit is None or not (unit.kind in WEIGHED or tokens[unit.first].low in LENGTHS):
        return None
    return Found(quantity, unit, at, past_hyphen(tokens, unit.last))


def take_as_size(tokens: Sequence[Token], found: Found) -> None:
    """Read "15-oz can" as one can of that size, "1-inch piece" as one piece."""
    pack = unit_at(tokens, past_hyphen(tokens, found.last))
    if pack is None:
        return
    in_pack = found.is_weighed and pack.has_a_size
    if in_pack and _counts_packs(tokens, found, pack):
        return
    if in_pack or (found.is_length(tokens) and pack.unit in _PIECES):
        found.size = Found(found.quantity, found.unit, found.first, found.last)
        found.quantity, found.unit, found.last = None, pack, pack.last


def _counts_packs(tokens: Sequence[Token], found: Found, pack: UnitFound) -> bool:
    """Read "1 - 8 oz pkg", "2 - 15 oz cans" and "2 1/4-oz packets" as packs of that size."""
    both = found.quantity
    if both is None or not tokens[both.first].text.isdigit():
        return False
    count = Fraction(tokens[both.first].text)
    size = quantity_at(tokens, both.first + 1 + (tokens[both.first + 1].text in _HYPHENS))
    if size is None or size.last != both.last or count > _FEW_PACKS:
        return False
    plural = tokens[pack.first].low.endswith("s")
    if plural is not (count > 1) or (both.low != both.high and size.low < 2 * count):
        # "4-6 oz can" is one can of some size; "1 1/2 oz bottle" is one of that size.
        return False
    if both.low == both.high and not plural:
        return False
    found.size = Found(size, found.unit, size.first, found.last)
    found.quantity = Quantity(count, count, both.first, both.first + 1)
    found.unit, found.last, found.in_packs = pack, pack.last, True
    return True


def past_hyphen(tokens: Sequence[Token], at: int) -> int:
    """Step over a hyphen that ties two words: 15-oz, and 15 -oz as some write it."""
    tied = (
        at + 1 < len(tokens)
        and tokens[at].text in _HYPHENS
        and tokens[at].end == tokens[at + 1].start
    )
    return at + tied

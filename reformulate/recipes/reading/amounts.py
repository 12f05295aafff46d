"""Find amounts in a line: a quantity with its unit, the size of a pack, a second measure, a sum."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from reformulate.measures.words import Kind
from reformulate.recipes.reading.amount_words import (
    past_about,
    past_qualifiers_after,
    past_share,
    qualifies,
)
from reformulate.recipes.reading.found import WEIGHED, Found
from reformulate.recipes.reading.quantity import Quantity, quantity_at, word_at
from reformulate.recipes.reading.scan import Sort, Token
from reformulate.recipes.reading.unit_words import LENGTHS, UnitFound, unit_at

_MOST_QUALIFIERS: Final = 3
_HYPHENS: Final = frozenset({"-", "–"})
TIMES: Final = frozenset({"x", "×", "*"})
"""Marks between a count and a size."""
_SAME: Final = frozenset({"/", "=", "|"})
_PLUS: Final = frozenset({"+", "plus", "and", "&"})
_BETWEEN: Final = frozenset({"-", "–", "—", "to", "or"})
_MONEY: Final = frozenset({"$", "£", "€"})
_PIECES: Final = frozenset({"piece", "slice", "strip", "cube"})
"""Units of which a length says how large one is."""
_FEW_PACKS: Final = 6
_LONGEST_ASIDE: Final = 8
_FEW_LAYERS: Final = 3
"""How deep amounts stand in one another: 2 packs (4 oz (113 g))."""


def amount_at(
    tokens: Sequence[Token], at: int, *, bare: bool = True, layer: int = 0
) -> Found | None:
    """Read the amount that starts at token ``at``.

    Parameters
    ----------
    tokens : sequence of Token
        The line.
    at : int
        Where it would start; words such as "about" are stepped over.
    bare : bool
        Whether a number without a unit is an amount.
    layer : int
        How many amounts this one stands in.

    Returns
    -------
    Found or None
        None where no amount starts.
    """
    first = at
    at = past_about(tokens, at)
    quantity = quantity_at(tokens, at)
    if quantity is None or layer > _FEW_LAYERS:
        return None
    if word_at(tokens, at - 1) in _MONEY or past_share(tokens, at) > at:
        return None
    found = Found(quantity, None, first, quantity.last)
    _read_size_and_unit(tokens, found, quantity, layer)
    if found.unit is None:
        says_a = tokens[at].low in {"a", "an"} and quantity.last == at + 1
        if (says_a and first > 0) or (found.size is None and not bare):
            return None
        return found
    _read_range(tokens, found, layer)
    _read_what_joins(tokens, found, layer)
    return found


def _read_size_and_unit(
    tokens: Sequence[Token], found: Found, quantity: Quantity, layer: int
) -> None:
    at = _past_of_a(tokens, found, quantity)
    size: Found | None
    if word_at(tokens, at) == "(":
        size, end = _bracket(tokens, at, layer) or (None, at)
        if size is not None and not (size.is_weighed or size.is_length(tokens)):
            size, end = None, at
        if size is None:
            at = _past_aside(tokens, found, at)
    else:
        at = _past_aside(tokens, found, at)
        times = word_at(tokens, at) in TIMES
        size = None if layer else _size_before_pack(tokens, at + times)
        end = size.last if size is not None else at
        if times and size is not None and size.is_length(tokens) and size.quantity is not None:
            # "2x1-inch pieces"
            found.quantity = Quantity(
                quantity.low, quantity.low, quantity.first, size.quantity.last
            )
            found.unit, found.last = size.unit, size.last
            return
    if size is not None:
        found.size, at = size, end
    at = _past_hyphen(tokens, at)
    found.last = at
    _read_unit(tokens, found, at)
    if found.size is None:
        _take_as_size(tokens, found)
    if found.unit is not None and word_at(tokens, found.last) == "(":
        _read_bracket_after_unit(tokens, found, layer)
    if word_at(tokens, found.last) == "each":
        found.each = True
        found.last += 1
    found.last += word_at(tokens, found.last) == "of"


def _past_of_a(tokens: Sequence[Token], found: Found, quantity: Quantity) -> int:
    """Step over "of a" in "1/2 of a 6 oz can", which is half of one can."""
    at = found.last
    if quantity.high >= 1:
        return at
    after = at + (word_at(tokens, at) == "of")
    return after + 1 if word_at(tokens, after) in {"a", "an", "one"} else at


def _past_aside(tokens: Sequence[Token], found: Found, at: int) -> int:
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


def _read_unit(tokens: Sequence[Token], found: Found, at: int) -> None:
    """Read the qualifiers and the unit; take nothing where no unit follows."""
    end = at
    while end - at < _MOST_QUALIFIERS and qualifies(word_at(tokens, end)):
        end += 1
    unit = unit_at(tokens, end)
    if unit is None:
        return
    found.unit = unit
    after = past_qualifiers_after(tokens, unit.last)
    found.qualifiers = tuple(token.low for token in (*tokens[at:end], *tokens[unit.last : after]))
    found.last = after


def _take_as_size(tokens: Sequence[Token], found: Found) -> None:
    """Read "15-oz can" as one can of that size, "1-inch piece" as one piece."""
    pack = unit_at(tokens, _past_hyphen(tokens, found.last))
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


def _size_before_pack(tokens: Sequence[Token], at: int) -> Found | None:
    """Read "15-oz" in "1 15-oz can", "6 oz" in "4 6-oz fillets"."""
    if at >= len(tokens) or tokens[at].sort not in {Sort.NUMBER, Sort.VULGAR}:
        return None
    quantity = quantity_at(tokens, at)
    if quantity is None:
        return None
    unit = unit_at(tokens, _past_hyphen(tokens, quantity.last))
    if unit is None or not (unit.kind in WEIGHED or tokens[unit.first].low in LENGTHS):
        return None
    return Found(quantity, unit, at, _past_hyphen(tokens, unit.last))


def _read_bracket_after_unit(tokens: Sequence[Token], found: Found, layer: int) -> None:
    inside = _bracket(tokens, found.last, layer)
    if inside is None:
        return
    size, end = inside
    if size.is_length(tokens) and not found.is_length(tokens):
        return
    of_each = found.is_pack or (size.each and not found.is_weighed)
    if of_each and size.is_weighed and found.size is None:
        found.size, found.last = size, end
    elif found.other is None and size.quantity is not None:
        found.other, found.last = size, end


def _bracket(tokens: Sequence[Token], at: int, layer: int) -> tuple[Found, int] | None:
    """Read a bracket that holds one amount with a unit, and nothing else."""
    size = amount_at(tokens, at + 1, bare=False, layer=layer + 1)
    if size is None or word_at(tokens, size.last) != ")":
        return None
    return size, size.last + 1


def _read_range(tokens: Sequence[Token], found: Found, layer: int) -> None:
    """Read "2 cups to 3 cups", "1 tsp to 1 tbsp" and "1/4 cup or 60 ml"."""
    word, low = word_at(tokens, found.last), found.quantity
    if word not in _BETWEEN or low is None or found.size is not None:
        return
    upper = amount_at(tokens, found.last + 1, bare=False, layer=layer + 1)
    if upper is None or upper.size is not None or upper.quantity is None:
        return
    high = upper.quantity
    if _same_unit(tokens, found, upper):
        if high.high <= low.low:
            return
        found.quantity = Quantity(low.low, high.high, low.first, high.last)
        found.unit = upper.unit
    elif not (upper.is_weighed and found.is_weighed):
        return
    elif word == "or" and upper.is_metric is not found.is_metric:
        found.other = upper
    else:
        found.upper = upper
    found.last = upper.last


def _read_what_joins(tokens: Sequence[Token], found: Found, layer: int) -> None:
    """Read "/ 60 g" and "plus 1 tsp" after the amount."""
    if word_at(tokens, found.last) in _SAME and found.other is None:
        other = amount_at(tokens, found.last + 1, bare=False, layer=layer + 1)
        if other is not None:
            found.other, found.last = other, other.last
    joined = word_at(tokens, found.last) in _PLUS
    if found.is_weighed and (joined or _is_in(found, "lb")):
        more = amount_at(tokens, found.last + joined, bare=False, layer=layer + 1)
        # "1 lb 4 oz" is a sum without a plus.
        if more is not None and more.is_weighed and (joined or _is_in(more, "oz")):
            found.more, found.last = more, more.last


def _is_in(found: Found, unit: str) -> bool:
    return found.unit is not None and found.unit.unit == unit


def _same_unit(tokens: Sequence[Token], one: Found, two: Found) -> bool:
    if one.unit is None or two.unit is None or one.unit.unit != two.unit.unit:
        return False
    return bool(one.unit.unit) or tokens[one.unit.first].low == tokens[two.unit.first].low


def _past_hyphen(tokens: Sequence[Token], at: int) -> int:
    """Step over a hyphen that ties two words: 15-oz, and 15 -oz as some write it."""
    tied = (
        at + 1 < len(tokens)
        and tokens[at].text in _HYPHENS
        and tokens[at].end == tokens[at + 1].start
    )
    return at + tied

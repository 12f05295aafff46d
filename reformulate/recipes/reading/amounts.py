"""Find amounts in a line: a quantity with its unit, the size of a pack, a second measure, a sum."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from reformulate.recipes.reading.amount_words import (
    past_about,
    past_qualifiers_after,
    past_share,
    qualifies,
)
from reformulate.recipes.reading.food_names import is_a_food
from reformulate.recipes.reading.found import Found
from reformulate.recipes.reading.packs import (
    past_aside,
    past_hyphen,
    past_of_a,
    size_before_pack,
    take_as_size,
)
from reformulate.recipes.reading.quantity import Quantity, quantity_at, word_at
from reformulate.recipes.reading.scan import Sort, Token
from reformulate.recipes.reading.unit_words import UnitFound, unit_at

_MOST_QUALIFIERS: Final = 3
TIMES: Final = frozenset({"x", "×", "*"})
"""Marks between a count and a size."""
_SAME: Final = frozenset({"/", "=", "|"})
_PLUS: Final = frozenset({"+", "plus", "and", "&"})
_LESS: Final = frozenset({"minus", "less"})
_OR_SO: Final = frozenset({"so", "larger", "more", "less", "smaller", "similar"})
_BETWEEN: Final = frozenset({"-", "–", "—", "to", "or"})
_MONEY: Final = frozenset({"$", "£", "€"})
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
    found = Found(quantity, None, first, _past_repeated(tokens, quantity))
    _read_size_and_unit(tokens, found, quantity, layer)
    if found.unit is None:
        says_a = tokens[at].low in {"a", "an"} and quantity.last == at + 1
        if (says_a and first > 0) or (found.size is None and not bare):
            return None
        return found
    _read_range(tokens, found, layer)
    _read_what_joins(tokens, found, layer)
    return found


def _past_repeated(tokens: Sequence[Token], quantity: Quantity) -> int:
    """Step over a number said twice: one (1) cup."""
    at = quantity.last
    again = quantity_at(tokens, at + 1) if word_at(tokens, at) == "(" else None
    if again is None or word_at(tokens, again.last) != ")":
        return at
    return again.last + 1 if (again.low, again.high) == (quantity.low, quantity.high) else at


def _read_size_and_unit(
    tokens: Sequence[Token], found: Found, quantity: Quantity, layer: int
) -> None:
    at = past_of_a(tokens, found, quantity)
    size: Found | None
    if word_at(tokens, at) == "(":
        size, end = _bracket(tokens, at, layer) or (None, at)
        if size is not None and not (size.is_weighed or size.is_length(tokens)):
            size, end = None, at
        if size is None:
            at = past_aside(tokens, found, at)
    else:
        at = past_aside(tokens, found, at)
        times = word_at(tokens, at) in TIMES
        size = None if layer else size_before_pack(tokens, at + times)
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
    at = past_hyphen(tokens, at)
    found.last = at
    _read_unit(tokens, found, at)
    if found.size is None:
        take_as_size(tokens, found)
    if found.unit is not None and word_at(tokens, found.last) == "(":
        _read_bracket_after_unit(tokens, found, layer)
    of = word_at(tokens, found.last) == "of"
    if word_at(tokens, found.last + of) == "each":
        found.each = True
        found.last += of + 1
    found.last += word_at(tokens, found.last) == "of"


def _read_unit(tokens: Sequence[Token], found: Found, at: int) -> None:
    """Read the qualifiers and the unit; take nothing where no unit follows."""
    end = at
    while end - at < _MOST_QUALIFIERS and qualifies(word_at(tokens, end)):
        end += 1
    unit = unit_at(tokens, end) or _unit_of(tokens, end + 1)
    if unit is None:
        return
    end = unit.first
    found.unit = unit
    after = past_qualifiers_after(tokens, unit.last)
    found.qualifiers = tuple(token.low for token in (*tokens[at:end], *tokens[unit.last : after]))
    found.last = after


def _unit_of(tokens: Sequence[Token], at: int) -> UnitFound | None:
    """Read the unit behind one word of any kind, which "of" makes sure of: 1 decent handful of."""
    unit = unit_at(tokens, at)
    if unit is None or word_at(tokens, unit.last) != "of" or tokens[at - 1].sort is not Sort.WORD:
        return None
    return None if is_a_food(tokens[at - 1].low) else unit


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
    if size is None:
        return None
    end = size.last
    # "4 oz or larger"
    end += 2 * (word_at(tokens, end) == "or" and word_at(tokens, end + 1) in _OR_SO)
    return (size, end + 1) if word_at(tokens, end) == ")" else None


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
    if found.is_weighed and word_at(tokens, found.last) in _LESS:
        less = amount_at(tokens, found.last + 1, bare=False, layer=layer + 1)
        if less is not None and less.is_weighed:
            found.less, found.last = less, less.last
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

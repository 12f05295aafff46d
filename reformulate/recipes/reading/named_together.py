"""Foods that "and" joins: two foods, or one that is called so."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from reformulate.recipes.reading.food_names import KEPT_PHRASES, ONE_DISH, PRODUCTS, is_a_food
from reformulate.recipes.reading.scan import Token
from reformulate.recipes.reading.word_sets import word_set

AND: Final = frozenset({"&", "and", "n"})
_PEELS: Final = word_set("zest rind peel juice")
_CUTS: Final = word_set("stick sticks flake flakes wedge wedges spears")
"""Words that end a food's name and are no food by themselves."""


def split_names(words: Sequence[Token], *, apart: bool = False) -> tuple[tuple[Token, ...], ...]:
    """Split "salt and pepper"; leave "macaroni and cheese" and "sour cream and onion dip".

    Parameters
    ----------
    words : sequence of Token
        The words of the names.
    apart : bool
        Whether the line says that they are several: "1 tsp each basil and oregano".
    """
    names = without_loose_and(words)
    at = next((i for i, word in enumerate(names) if word.low in AND), None)
    if at is not None:
        left, right = names[:at], without_loose_and(names[at + 1 :])
        low = tuple(word.low for word in names)
        one_name = low in ONE_DISH or low in KEPT_PHRASES
        if right and not one_name and (apart or _are_two(left, right)):
            return tuple(left), *split_names(right, apart=apart)
    return (tuple(names),) if names else ()


def _are_two(left: Sequence[Token], right: Sequence[Token]) -> bool:
    if len(left) == len(right) == 1:
        return True
    if left[-1].low == "salt" or right[-1].low in {"pepper", "salt"}:
        # Salt and vinegar is what crisps taste of.
        return right[0].low != "vinegar"
    here = [word.low for word in right]
    end = next((i for i, word in enumerate(here) if word in AND), len(here))
    flavour = end > 1 and here[end - 1] in PRODUCTS and here[end - 1] != left[-1].low
    named = _ends_a_name(left[-1].low) and _ends_a_name(here[end - 1])
    return len(left) > 1 and named and not flavour and here[0] not in _PEELS


def _ends_a_name(word: str) -> bool:
    return is_a_food(word) or word in _CUTS


def without_loose_and(names: Sequence[Token]) -> list[Token]:
    """Drop an "and" that stood between words which are gone."""
    first, last = 0, len(names)
    while last > first and names[last - 1].low in AND:
        last -= 1
    while first < last and names[first].low in AND:
        first += 1
    return list(names[first:last])

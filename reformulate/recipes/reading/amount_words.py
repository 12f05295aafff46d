"""Words beside a number that leave it as it is, or say which measure of a unit is meant."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from reformulate.recipes.reading.quantity import quantity_at, word_at
from reformulate.recipes.reading.scan import Sort, Token
from reformulate.recipes.reading.word_sets import word_set

ABOUT: Final = word_set(
    "about approx approximately around roughly circa ca nearly almost ~ ≈ scant generous heaping "
    "heaped rounded level another additional extra"
)
"""Words before a number that leave it as it is."""
_SHORTENED: Final = word_set("approx ca c")
"""Those of them that may end in a full stop; "c. 200 g" is about 200 g, and "2 c." two cups."""
_QUALIFYING: Final = word_set(
    "small medium large extra-large jumbo big heaping heaped rounded level scant generous good full "
    "packed firmly lightly loosely tightly well short fat thick thin overflowing mini giant tiny "
    "whole lg sm med extra"
)
_OF_SIZE: Final = ("-sized", "-size")
_HOW_PACKED: Final = word_set("firmly tightly well")
_AFTER_UNIT: Final = word_set("heaping heaped scant packed")
_SHARES: Final = frozenset({"%", "°", "percent"})
_LESS: Final = ("less-", "lower-", "reduced-")


def past_about(tokens: Sequence[Token], at: int) -> int:
    """Step over "about", "approx." and "c." before a number."""
    while True:
        word = word_at(tokens, at)
        after = at + 1
        if word in _SHORTENED and word_at(tokens, after) == ".":
            after += 1
        if word == "c" and not _is_number(tokens, after):
            return at
        if word not in ABOUT and word != "c":
            return at
        at = after


def _is_number(tokens: Sequence[Token], at: int) -> bool:
    return at < len(tokens) and tokens[at].sort in {Sort.NUMBER, Sort.VULGAR}


def past_share(tokens: Sequence[Token], at: int) -> int:
    """Step over a number that says what a food is like: 2% milk, 1/3-less-fat cream cheese.

    Returns
    -------
    int
        ``at`` itself where the number there says something else, or none stands there.
    """
    quantity = quantity_at(tokens, at)
    if quantity is None:
        return at
    after = quantity.last
    if word_at(tokens, after) in _SHARES:
        return after + 1
    after += word_at(tokens, after) == "-"
    word = word_at(tokens, after)
    less = word.startswith(_LESS) or f"{word}-" in _LESS
    return after if less and quantity.high < 1 else at


def qualifies(word: str) -> bool:
    """Whether a word before a unit says how large or how full it is: heaped, thumb-sized."""
    return word in _QUALIFYING or word.endswith(_OF_SIZE)


def past_qualifiers_after(tokens: Sequence[Token], at: int) -> int:
    """Step over what is said of a unit behind it: a cup, firmly packed."""
    while True:
        packed = word_at(tokens, at) in _HOW_PACKED and word_at(tokens, at + 1) == "packed"
        if not packed and word_at(tokens, at) not in _AFTER_UNIT:
            return at
        at += 1 + packed

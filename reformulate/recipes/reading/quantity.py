"""How many: numbers, fractions, mixed numbers, number words and ranges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Final

from reformulate.recipes.reading.scan import Sort, Token
from reformulate.recipes.reading.word_sets import word_set

_VULGAR: Final = {
    "¼": Fraction(1, 4),
    "½": Fraction(1, 2),
    "¾": Fraction(3, 4),
    "⅐": Fraction(1, 7),
    "⅑": Fraction(1, 9),
    "⅒": Fraction(1, 10),
    "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3),
    "⅕": Fraction(1, 5),
    "⅖": Fraction(2, 5),
    "⅗": Fraction(3, 5),
    "⅘": Fraction(4, 5),
    "⅙": Fraction(1, 6),
    "⅚": Fraction(5, 6),
    "⅛": Fraction(1, 8),
    "⅜": Fraction(3, 8),
    "⅝": Fraction(5, 8),
    "⅞": Fraction(7, 8),
    "↉": Fraction(0),
}
_COUNTS: Final = {
    word: Fraction(count)
    for word, count in {
        "one": 1,
        "couple": 2,
        "two": 2,
        "three": 3,
        "four": 4,
        "five": 5,
        "six": 6,
        "seven": 7,
        "eight": 8,
        "nine": 9,
        "ten": 10,
        "eleven": 11,
        "twelve": 12,
        "thirteen": 13,
        "fourteen": 14,
        "fifteen": 15,
        "sixteen": 16,
        "seventeen": 17,
        "eighteen": 18,
        "nineteen": 19,
        "twenty": 20,
        "thirty": 30,
        "forty": 40,
        "fifty": 50,
    }.items()
}
_PARTS: Final = {
    "half": Fraction(1, 2),
    "third": Fraction(1, 3),
    "thirds": Fraction(1, 3),
    "quarter": Fraction(1, 4),
    "quarters": Fraction(1, 4),
    "fourth": Fraction(1, 4),
    "fourths": Fraction(1, 4),
    "eighth": Fraction(1, 8),
    "eighths": Fraction(1, 8),
}
# "Five spice powder" and "half and half" are foods.
_NOT_COUNTS: Final = {
    "five": {"spice", "spices"},
    "seven": {"spice", "spices"},
    "half": {"and", "&", "n"},
}
# "1 day old bread" counts no bread.
_SPANS_OF_TIME: Final = word_set(
    "day days day-old year years month months week weeks hour hours minute minutes min mins"
)
_ARTICLES: Final = frozenset({"a", "an"})
_NO_NUMBER: Final = frozenset({"few", "little", "bit", "lot"})
_HYPHENS: Final = frozenset({"-", "–", "—"})
_TO: Final = _HYPHENS | {"to", "or", "~"}
_MOST_DIGITS: Final = 12
"""Digits beyond which a number is no amount but a code or a slip."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number or a range, and the tokens that say it."""

    low: Fraction
    high: Fraction
    first: int
    """Index of its first token."""
    last: int
    """Index after its last token."""

    @property
    def middle(self) -> Fraction:
        """The number to reckon with."""
        return self.low if self.low == self.high else (self.low + self.high) / 2


def word_at(tokens: Sequence[Token], at: int) -> str:
    """Return the token at ``at`` in lower case, "" beyond the ends."""
    return tokens[at].low if 0 <= at < len(tokens) else ""


def quantity_at(tokens: Sequence[Token], at: int) -> Quantity | None:
    """Read a number or a range that starts at token ``at``; None where there is none."""
    found = _number_at(tokens, at)
    if found is None:
        return None
    low, end = found
    if word_at(tokens, end) in _TO:
        second = None if word_at(tokens, end + 1) in _ARTICLES else _number_at(tokens, end + 1)
        # "3-2" is no range, and "1 to 100 g packs" is nobody's either.
        if second is not None and second[0] > low:
            return Quantity(low, second[0], at, second[1])
    return Quantity(low, low, at, end)


def _number_at(tokens: Sequence[Token], at: int) -> tuple[Fraction, int] | None:
    if at >= len(tokens):
        return None
    token = tokens[at]
    if token.sort is Sort.NUMBER:
        return None if word_at(tokens, at + 1) in _SPANS_OF_TIME else _digits_at(tokens, at)
    if token.sort is Sort.VULGAR:
        return _VULGAR[token.text], at + 1
    return _words_at(tokens, at) if token.sort is Sort.WORD else None


def _digits_at(tokens: Sequence[Token], at: int) -> tuple[Fraction, int] | None:
    fraction = _fraction_at(tokens, at)
    if fraction is not None:
        return fraction
    value = _decimal(tokens[at].text)
    if value is None:
        return None
    after = at + 1
    if value.denominator == 1 and value >= 1:
        joined = word_at(tokens, after) in _HYPHENS or word_at(tokens, after) in {"and", "&"}
        part = _part_at(tokens, after + joined)
        if part is not None and 0 < part[0] < 1:
            return value + part[0], part[1]
    return value, after


def _part_at(tokens: Sequence[Token], at: int) -> tuple[Fraction, int] | None:
    """Read what may follow a whole number: 1/2, ½, and "a half" in words."""
    if at >= len(tokens):
        return None
    if tokens[at].sort is Sort.VULGAR:
        return _VULGAR[tokens[at].text], at + 1
    if tokens[at].sort is Sort.NUMBER:
        return _fraction_at(tokens, at)
    if word_at(tokens, at) in _ARTICLES and word_at(tokens, at + 1) in _PARTS:
        return _PARTS[word_at(tokens, at + 1)], at + 2
    return None


def _fraction_at(tokens: Sequence[Token], at: int) -> tuple[Fraction, int] | None:
    """Read "1/2"; 225g/8oz is none, as a word stands before its slash."""
    if at + 2 >= len(tokens) or tokens[at + 1].text != "/":
        return None
    top, bottom = tokens[at].text, tokens[at + 2].text
    if not (top.isdigit() and bottom.isdigit()) or max(len(top), len(bottom)) > _MOST_DIGITS:
        return None
    return (Fraction(int(top), int(bottom)), at + 3) if int(bottom) else None


@lru_cache(maxsize=1024)
def _decimal(text: str) -> Fraction | None:
    """Read "1.5", "1,5" and "1,000"; a comma before three digits parts thousands, except in 0,250."""
    if len(text) > _MOST_DIGITS:
        return None
    whole, comma, rest = text.partition(",")
    if comma and (len(rest) != 3 or whole == "0") and "," not in rest:
        text = f"{whole}.{rest}"
    return Fraction(text.replace(",", ""))


def _words_at(tokens: Sequence[Token], at: int) -> tuple[Fraction, int] | None:
    word, after = tokens[at].low, word_at(tokens, at + 1)
    if after in _NOT_COUNTS.get(word, ()):
        return None
    if word in _ARTICLES:
        return _article_at(tokens, at)
    if word in _COUNTS:
        return _count_at(tokens, at)
    if word in {"half", "quarter"} and after:
        return _PARTS[word], _past_of(tokens, at + 1)
    first, _, second = word.partition("-")
    if first in _COUNTS and second in _PARTS:
        return _COUNTS[first] * _PARTS[second], _past_of(tokens, at + 1)
    return None


def _count_at(tokens: Sequence[Token], at: int) -> tuple[Fraction, int]:
    """Read "three", "two thirds" and "one and a half"."""
    count, after = _COUNTS[tokens[at].low], word_at(tokens, at + 1)
    if after in _PARTS:
        return count * _PARTS[after], _past_of(tokens, at + 2)
    if tokens[at].low == "couple":
        return count, at + 1 + (after == "of")
    part = _part_at(tokens, at + 1 + (after in {"and", "&"}))
    if part is not None and 0 < part[0] < 1:
        return count + part[0], part[1]
    return count, at + 1


def _article_at(tokens: Sequence[Token], at: int) -> tuple[Fraction, int] | None:
    after = word_at(tokens, at + 1)
    if after in _NO_NUMBER:
        return None
    if after in _PARTS:
        return _PARTS[after], _past_of(tokens, at + 2)
    if after == "couple":
        return _words_at(tokens, at + 1)
    return Fraction(1), at + 1


def _past_of(tokens: Sequence[Token], at: int) -> int:
    """Step over "of a" in "half of a cup" and "a" in "half a cup"."""
    at += word_at(tokens, at) == "of"
    return at + (word_at(tokens, at) in _ARTICLES)

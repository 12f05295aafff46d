"""The food in a run of words: what it is called, what matching needs, what was done to it."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from reformulate.recipes.reading.describing_words import Aspect, aspect_of, describes_together
from reformulate.recipes.reading.food_names import (
    KEPT_PHRASES,
    NAMED_FOR_PLACES,
    is_a_food,
)
from reformulate.recipes.reading.named_together import AND, split_names, without_loose_and
from reformulate.recipes.reading.scan import Sort, Token
from reformulate.recipes.reading.unit_words import LENGTHS, unit_at

_LONGEST_PHRASE: Final = max(len(phrase) for phrase in KEPT_PHRASES)


@dataclass(frozen=True, slots=True)
class FoodWords:
    """A run of words, sorted by what they are about."""

    names: tuple[tuple[Token, ...], ...] = ()
    """The words of each food; salt and pepper are two."""
    match: tuple[Token, ...] = ()
    """Words that tell which food of a table is meant."""
    done: tuple[str, ...] = ()
    """Preparation words, in order."""
    sizes: tuple[str, ...] = ()
    makers: tuple[str, ...] = ()
    """Trade names."""
    instead: tuple[str, ...] = ()
    """Describing words that "or" offers in another's place: frozen in "fresh or frozen"."""


def food_words(
    tokens: Sequence[Token], *, opens_line: bool = False, apart: bool = False
) -> FoodWords:
    """Sort a run of tokens, without amounts and without what follows a comma.

    Parameters
    ----------
    tokens : sequence of Token
        Words and marks.
    opens_line : bool
        Whether the first word opens the line, where any word may have a capital.
    apart : bool
        Whether foods that "and" joins are several: those of "1 tsp each basil and oregano".
    """
    words = words_of(tokens)
    held = _held(words)
    aspects = [None if held[i] else aspect_of(word.low) for i, word in enumerate(words)]
    for i, (word, following) in enumerate(itertools.pairwise(words)):
        if describes_together(word.low, following.low):
            aspects[i : i + 2] = [Aspect.FORM, Aspect.FORM]
    traded = _trade_names(words, aspects, held, opens_line=opens_line)
    names: list[Token] = []
    match: list[Token] = []
    found: dict[str, list[str]] = {"done": [], "sizes": [], "makers": [], "instead": []}
    after_or = False
    for word, aspect, trade in zip(words, aspects, traded, strict=True):
        if word.low == "or":
            after_or = True
            continue
        after_or = after_or and aspect is not None
        if trade:
            found["makers"].append(word.text)
        elif aspect is None:
            names.append(word)
            match.append(word)
        elif aspect is Aspect.DONE:
            found["done"].append(word.text)
        elif aspect is Aspect.SIZE:
            found["sizes"].append(word.low)
        elif aspect is not Aspect.PRAISE and after_or:
            found["instead"].append(word.text)
        elif aspect is not Aspect.PRAISE:
            match.append(word)
    match = [*without_loose_and(match), *_percents(tokens)]
    return FoodWords(
        names=split_names(names, apart=apart),
        match=tuple(sorted(match, key=lambda word: word.start)),
        **{sort: tuple(texts) for sort, texts in found.items()},
    )


def words_of(tokens: Sequence[Token]) -> list[Token]:
    """Return the words, with the figures that are part of one: 5-spice powder, V8."""
    words: list[Token] = []
    for i, token in enumerate(tokens):
        if token.sort is Sort.WORD or token.text == "&":
            first = i
            if _starts_with_figure(tokens, i):
                first = i - 2
            words.append(_joined(tokens[first : i + 1]))
        elif token.sort is Sort.NUMBER and _ends_with_figure(tokens, i):
            words[-1] = _joined([words[-1], token])
    return words


def _starts_with_figure(tokens: Sequence[Token], at: int) -> bool:
    """Whether a number is tied to the word at ``at`` and is no amount: "5-", not "6-" in 6-inch."""
    if at < 2 or tokens[at - 1].text != "-" or tokens[at - 2].sort is not Sort.NUMBER:
        return False
    tied = tokens[at - 2].end == tokens[at - 1].start and tokens[at - 1].end == tokens[at].start
    part = at >= 3 and tokens[at - 3].text in {"/", "-"}
    word = tokens[at].low
    if not tied or part or aspect_of(word) is not None or word.partition("-")[0] in LENGTHS:
        return False
    return unit_at(tokens, at) is None


def _ends_with_figure(tokens: Sequence[Token], at: int) -> bool:
    before = tokens[at - 1] if at else None
    if before is None or before.sort is not Sort.WORD or before.low == "x":
        return False
    return len(before.text) <= 2 and before.end == tokens[at].start


def _joined(tokens: Sequence[Token]) -> Token:
    if len(tokens) == 1:
        return tokens[0]
    text = "".join(token.text for token in tokens)
    return Token(Sort.WORD, text, text.lower(), tokens[0].start, tokens[-1].end)


def only_names(words: FoodWords) -> FoodWords:
    """Return the food without the words that describe it."""
    return FoodWords(words.names, tuple(word for name in words.names for word in name))


def without_word(words: FoodWords, word: Token) -> FoodWords:
    """Return the food without a word that counts it, as the last of "2 fennel bulbs" does."""
    kept = tuple(tuple(w for w in name if w is not word) for name in words.names)
    return replace(
        words,
        names=tuple(name for name in kept if name),
        match=tuple(w for w in words.match if w is not word),
    )


def _percents(tokens: Sequence[Token]) -> list[Token]:
    """Join "2" and "%": which milk is meant."""
    return [
        Token(Sort.WORD, number.text + "%", number.text + "%", number.start, mark.end)
        for number, mark in itertools.pairwise(tokens)
        if mark.text == "%" and number.sort is Sort.NUMBER
    ]


def whole_food(tokens: Sequence[Token]) -> FoodWords:
    """Take describing words for the food where no other words are left: "8 wings", "whole cloves"."""
    words = [token for token in tokens if token.sort is Sort.WORD]
    parts = [word for word in words if aspect_of(word.low) is Aspect.PART] or words
    return FoodWords((tuple(parts),) if parts else (), tuple(words))


def phrase(words: Sequence[Token]) -> str:
    """Return the words as written, with one space between them."""
    return " ".join(word.text for word in words)


def _held(words: Sequence[Token]) -> list[bool]:
    """Mark the words of names in which no word may be left out, such as sour cream."""
    held = [False] * len(words)
    low = [word.low for word in words]
    for start in range(len(low)):
        for length in range(1, _LONGEST_PHRASE + 1):
            end = start + length
            # The cream of "light cream cheese" is the cheese's.
            of_cheese = low[end - 1 : end + 1] == ["cream", "cheese"]
            if tuple(low[start:end]) in KEPT_PHRASES and not of_cheese:
                held[start : start + length] = [True] * min(length, len(low) - start)
    return held


def _trade_names(
    words: Sequence[Token],
    aspects: Sequence[Aspect | None],
    held: Sequence[bool],
    *,
    opens_line: bool,
) -> list[bool]:
    """Mark capitalised words before a food in small letters: its maker, not the food."""
    traded = [False] * len(words)
    plain = [
        i
        for i, word in enumerate(words)
        if aspects[i] is None and word.text[0].islower() and word.low not in AND
    ]
    shouting = [i for i, word in enumerate(words) if _shouts(word)]
    if len(shouting) < len(words):
        for i in shouting:
            traded[i] = aspects[i] is None and i < len(words) - 1 and not _may_name(words[i].low)
    if plain:
        for i in range(opens_line, plain[-1]):
            if words[i].text[0].isupper() and aspects[i] is None:
                traded[i] = not _may_name(words[i].low)
    return [trade and not hold for trade, hold in zip(traded, held, strict=True)]


def _shouts(word: Token) -> bool:
    return len(word.text) > 2 and word.text.isupper()


def _may_name(word: str) -> bool:
    placed = word.removesuffix("-style") in NAMED_FOR_PLACES
    return placed or is_a_food(word)

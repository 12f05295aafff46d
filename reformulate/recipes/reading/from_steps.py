"""Ingredients of a recipe that lists none: its steps name them with their amounts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from reformulate.recipes.reading.amounts import amount_at
from reformulate.recipes.reading.food_names import is_a_food
from reformulate.recipes.reading.line import read_line
from reformulate.recipes.reading.scan import LONGEST, Sort, Token, scan, tidy
from reformulate.recipes.reading.values import About, Ask, ReadLine
from reformulate.recipes.reading.word_sets import word_set

_LONGEST_NAME: Final = 7
"""Words of a food's name behind its amount that are looked at [count]."""
_ENDS_A_NAME: Final = frozenset(",;.:()!?") | word_set(
    "and or & with into to for until over on onto from at then plus together while"
)
_PACKED: Final = frozenset({"water", "oil", "brine", "juice", "adobo"})
_TAKEN: Final = "It stands in step {step} only: is it an ingredient, with all of its amount?"


def lines_in_step(step: str, number: int) -> tuple[ReadLine, ...]:
    """Return the foods that step ``number`` names with an amount, each with a question.

    Examples
    --------
    >>> [line.text for line in lines_in_step("Beat 8 oz cream cheese with 1 cup of salsa.", 1)]
    ['8 oz cream cheese', '1 cup of salsa']
    """
    return tuple(_asked(line, number) for line in foods_with_amounts(step))


def _asked(line: ReadLine, step: int) -> ReadLine:
    question = Ask(About.LINE, _TAKEN.format(step=step))
    return replace(line, asks=(*line.asks, question))


def foods_with_amounts(step: str) -> Iterator[ReadLine]:
    """Give every food that a step names with an amount."""
    step = step[: 10 * LONGEST]
    tokens = scan(tidy(step))
    at = 0
    while at < len(tokens):
        found = amount_at(tokens, at, bare=False)
        if found is None or found.unit is None or found.is_length(tokens):
            at += 1
            continue
        end = _end_of_name(tokens, found.last)
        read = read_line(step[tokens[at].start : tokens[end - 1].end])
        words = read.food_text.lower().split()
        if end > found.last and any(is_a_food(word) for word in words):
            yield read
            at = end
        else:
            at = max(found.last, at + 1)


def _end_of_name(tokens: Sequence[Token], at: int) -> int:
    end = at
    while end < min(len(tokens), at + _LONGEST_NAME):
        word = tokens[end].low
        if word == "in" and end + 1 < len(tokens) and tokens[end + 1].low in _PACKED:
            end += 2
            continue
        stops = word in _ENDS_A_NAME or word == "in" or tokens[end].sort is Sort.NUMBER
        if stops:
            break
        end += 1
    return end

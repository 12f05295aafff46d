"""What cooks call foods: the project's own table of words and the foods they mean.

A row is what the words mean when they stand alone, form included: "milk" is whole milk. Further
words about form lead to the food's neighbours: "low-fat milk". Several foods stand in order of
likelihood; ``ask`` marks words that a person should always settle.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from reformulate.recipes.matching.text import Sorted, sorted_words
from reformulate.recipes.matching.words import words_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Alias:
    """One thing cooks write, and what they may mean by it."""

    written: str
    words: Sorted
    foods: tuple[str, ...]
    """Keys in the food table, likeliest first."""
    ask: bool
    """Whether a person has to settle it."""


@cache
def aliases_by_words() -> Mapping[frozenset[str], tuple[Alias, ...]]:
    """Return the table by the food words of each row."""
    found: dict[frozenset[str], list[Alias]] = defaultdict(list)
    for alias in aliases():
        found[alias.words.food].append(alias)
    return {words: tuple(called) for words, called in found.items()}


@cache
def alias_words() -> frozenset[str]:
    """Return every food word of the table."""
    return frozenset[str]().union(*aliases_by_words())


@cache
def aliases() -> tuple[Alias, ...]:
    """Return the table, read once."""
    with (Path(__file__).parent / "aliases.csv").open(encoding="utf-8", newline="") as file:
        return tuple(
            Alias(
                written=written,
                words=sorted_words(words_of(written)),
                foods=tuple(row["foods"].split(";")),
                ask=row["ask"] == "yes",
            )
            for row in csv.DictReader(file)
            for written in row["words"].split(";")
        )

"""Texts as lists of plain words: one spelling, one number, one word for one thing."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable
from functools import cache, lru_cache
from pathlib import Path
from typing import Final

from reformulate.foods.plain_text import folded
from reformulate.recipes.reading.word_sets import word_set

LONGEST: Final = 400
"""How much of a text is looked at [characters]; no food has a longer name."""
_MOST_WORDS: Final = 40
_WORD: Final = re.compile(r"[0-9]+(?:\.[0-9]+)?%|[a-z][a-z0-9]*|[0-9]+")
_PERCENT: Final = re.compile(r"([0-9]) ?(?:%|per ?cent\b)(?: ?(?:milk ?)?fat\b)?")


_LIKE_PLURALS: Final = word_set("""
    asparagus brussels citrus couscous debris hummus houmous hummous hommus molasses schnapps
""")
_IRREGULAR: Final = {
    "leaves": "leaf",
    "loaves": "loaf",
    "halves": "half",
    "calves": "calf",
    "geese": "goose",
    "chilies": "chile",
    "chillies": "chile",
}
_PLURAL_MATTERS: Final = frozenset({"peppers"})
"""Peppers are vegetables, pepper is a spice: the plural is kept beside the singular."""


def plain(text: str) -> str:
    """Return as much of a text as is looked at, in lower case without accents or apostrophes."""
    # Compatibility forms may grow a character eighteenfold: cut again.
    return folded(text[:LONGEST])[: 2 * LONGEST]


@lru_cache(maxsize=4096)
def words_of(text: str) -> tuple[str, ...]:
    """Return the words of a text in order, each in the form that foods are known by.

    Singular, without accents; two words for one thing become one ("aubergines" as "eggplant"),
    and phrases that mean one thing become one word ("low fat", "lowfat" as "low-fat").

    >>> words_of("Low-fat natural yoghurts, 2 %")
    ('low-fat', 'natural', 'yogurt', '2%')
    """
    found = _WORD.findall(_PERCENT.sub(r"\1% ", plain(text).replace("&", " and ")))[:_MOST_WORDS]
    plural = [word for word in found if word in _PLURAL_MATTERS]
    return (*_in_one_word([singular(word) for word in found]), *plural)


def quoted(words: Iterable[str]) -> str:
    """Return words as a message names them: “cream” “sour”."""
    return " ".join(f"“{word}”" for word in sorted(words))


def singular(word: str) -> str:
    """Return the singular of a kitchen word; a word that only looks like a plural stays."""
    if word in _IRREGULAR:
        return _IRREGULAR[word]
    if len(word) < 4 or not word.endswith("s") or word in _LIKE_PLURALS or word.endswith("ss"):
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("oes", "ches", "shes", "xes", "sses")):
        return word[:-2]
    return word[:-1]


def _in_one_word(words: list[str]) -> list[str]:
    """Replace phrases by the words that mean the same, longest phrases first."""
    same, longest = _same_words()
    out: list[str] = []
    at = 0
    while at < len(words):
        for length in range(min(longest, len(words) - at), 0, -1):
            means = same.get(tuple(words[at : at + length]))
            if means is not None:
                out.extend(means)
                at += length
                break
        else:
            out.append(words[at])
            at += 1
    return out


@cache
def _same_words() -> tuple[dict[tuple[str, ...], tuple[str, ...]], int]:
    same: dict[tuple[str, ...], tuple[str, ...]] = {}
    with (Path(__file__).parent / "same_words.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            means = tuple(row["means"].split())
            for phrase in row["written"].split(";"):
                same[tuple(singular(word) for word in _WORD.findall(plain(phrase)))] = means
    return same, max(map(len, same))

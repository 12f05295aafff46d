"""How many a recipe serves, or how much it makes, from the line that says so."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from reformulate.recipes.reading.expressed import numbers_of
from reformulate.recipes.reading.quantity import Quantity, quantity_at, word_at
from reformulate.recipes.reading.scan import LONGEST, Token, scan, tidy
from reformulate.recipes.reading.word_sets import word_set

_COUNT: Final = "(?:[0-9]{1,3}|two|three|four|five|six|seven|eight|nine|ten|twelve|a dozen)"
_LEADS: Final = re.compile(
    r"^(?:\W{0,3})(?:(?:makes )?(?:enough|sufficient) for\b"
    r"|(?:recipe )?(?:serves|servings?|yields?|makes|portions|feeds|number of servings)"
    r"\b(?! with)|for (?=(?:about )?[\w-]+ (?:people|persons|guests|servings|portions)\b)"
    rf"|for (?=(?:about )?{_COUNT}\W*$))",
    re.IGNORECASE,
)
_ENDS: Final = re.compile(
    r"^\W{0,3}(?:[0-9][0-9 /–-]*|[0-9]+ to [0-9]+) *(?:servings?|portions?)\W{0,3}$", re.IGNORECASE
)
_BRACKETED: Final = re.compile(
    r"\((?:serves|makes|yields?|for) [^()]{1,40}\)|\([0-9][0-9 –-]* servings?\)"
    r"| *[,–—-] *serves [^()]{1,20}$"
    rf"|,? \b(?:it )?(?:serves|feeds) (?:about )?{_COUNT}$",
    re.IGNORECASE,
)
_COUNTED: Final = word_set("serving servings portion portions people persons person guests guest")
_SERVE: Final = frozenset({"serv", "feeds", "portions", "for"})
_BESIDE: Final = re.compile(r" +[|/·•] +")
_SENTENCE: Final = re.compile(r"(?<=[.!?]) +")
_DOZEN: Final = re.compile(r"\b(?:a|one) dozen\b", re.IGNORECASE)
_FEW_WORDS: Final = 8
_MOST: Final = 10_000
_LONGEST_LINE: Final = 120
"""A longer line is a sentence, even if it starts with "makes" [characters]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadServings:
    """What a recipe says it serves or makes."""

    text: str
    """As written."""
    number: float | None
    """Servings [count]; the middle of a range; None where only another yield is given."""
    range: tuple[float, float] | None = None
    """The ends, where a range is written [count]."""
    makes: str = ""
    """What it makes, where that is not a number of servings: "3 cups"."""


def read_servings(text: str) -> ReadServings | None:
    """Read "Serves 6-8", "Yield: 3 cups (12 servings)", "10 servings"; None where it is no such line.

    Examples
    --------
    >>> found = read_servings("Serves 6 to 8")
    >>> found.number, found.range
    (7.0, (6.0, 8.0))
    """
    line = _DOZEN.sub("12", tidy(text[:LONGEST])).strip()
    found = _read(line)
    if found is not None or len(line) > _LONGEST_LINE:
        return found
    # A strip of figures, or two languages.
    pieces = _BESIDE.split(line) if _BESIDE.search(line) else ()
    return next(filter(None, map(_read, pieces)), None)


def servings_in(text: str) -> ReadServings | None:
    """Read the sentence of a step or a story that says how many it serves, if one does.

    Examples
    --------
    >>> servings_in("Chill well. Serves 8.").number
    8.0
    """
    for sentence in _SENTENCE.split(text[: 10 * LONGEST]):
        found = read_servings(sentence) if len(sentence.split()) <= _FEW_WORDS else None
        if found is not None and found.number is not None:
            return found
    return None


def _read(line: str) -> ReadServings | None:
    lead = _LEADS.match(line)
    if len(line) > _LONGEST_LINE or not (lead or _ENDS.match(line)):
        return None
    serves = lead is None or any(word in lead[0].lower() for word in _SERVE)
    return _counted(line.strip("*_ "), serves=serves)


def servings_in_title(title: str) -> tuple[str, ReadServings | None]:
    """Split "Bean dip (serves 8)" into the title and the servings."""
    found = _BRACKETED.search(title[:LONGEST])
    if found is None:
        return title, None
    inside = found[0].strip("() ,–—-")
    servings = _counted(tidy(inside), serves=True)
    if servings is None:
        return title, None
    return " ".join((title[: found.start()] + title[found.end() :]).split()), servings


def _counted(text: str, *, serves: bool) -> ReadServings | None:
    """Take the number of servings if one is said, else what else the recipe makes."""
    tokens = scan(text)
    found = _quantities(tokens)
    said = [quantity for quantity in found if word_at(tokens, quantity.last) in _COUNTED]
    # A number by itself counts servings: "Yield: 12".
    alone = [quantity for quantity in found if not word_at(tokens, quantity.last).isalpha()]
    chosen = next(iter(said or (found if serves else alone)), None)
    others = [quantity for quantity in found if quantity is not chosen]
    makes = ""
    if others and not serves:
        last = min(others[0].last, len(tokens) - 1)
        makes = text[tokens[others[0].first].start : tokens[last].end]
    if chosen is None:
        return ReadServings(text=text, number=None, makes=makes) if makes else None
    numbers = numbers_of(chosen)
    return ReadServings(
        text=text,
        number=float(chosen.middle),
        range=numbers if isinstance(numbers, tuple) else None,
        makes=makes,
    )


def _quantities(tokens: list[Token]) -> list[Quantity]:
    found = []
    at = 0
    while at < len(tokens):
        article = word_at(tokens, at) in {"a", "an"}
        quantity = None if article else quantity_at(tokens, at)
        if quantity is not None and 0 < quantity.high <= _MOST:
            found.append(quantity)
        at = quantity.last if quantity is not None else at + 1
    return found

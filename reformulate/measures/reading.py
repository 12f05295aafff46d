"""Read an amount as a cook writes it; refuse, with a reason, whatever is not one exact amount."""

from __future__ import annotations

import re
import unicodedata
from difflib import get_close_matches
from fractions import Fraction
from typing import Final

from reformulate.errors import BadInput, Problem
from reformulate.measures.amount import LARGEST, Amount, Term
from reformulate.measures.words import QUALIFIERS, SPELLINGS, UNITS, Kind, canonical_unit

_NUMBER: Final = (
    r"(?:[0-9]+ [0-9]+ ?/ ?[0-9]+|[0-9]+ ?/ ?[0-9]+|[0-9]*\.[0-9]+|[0-9]+(?:\.(?![0-9]))?)"
)
_STARTS: Final = re.compile(rf"({_NUMBER}) ?(.*)")
_MIXED_OR_RANGE: Final = re.compile(r"([0-9]+) ?[-–—] ?([0-9]+ ?/ ?[0-9]+)(.*)")
_RANGE: Final = re.compile(rf"{_NUMBER} ?(?:[-–—]|\bto\b|\bor\b) ?[0-9.]")
_INEXACT: Final = re.compile(
    r"(about|approx\w*|around|circa|ca|nearly|up to)\b|[~<>≈]", re.IGNORECASE
)
_BRACKET: Final = re.compile(r"\(([^()]*)\)")
_JOINED: Final = re.compile(r" ?\+ ?| plus ", re.IGNORECASE)
# Enough for every fraction that a term can hold, few enough to reject a stuck key.
_MOST_DIGITS: Final = 60
_MOST_DECIMALS: Final = 6
_SHOWN: Final = 40
"""How much of a wrong text a message repeats [characters]."""

_PLACES: Final = "The food and how it is prepared have their own places."
_NUMBERS: Final = "Write one such as 2, 1 1/2 or 0.5."
_HEAPED: Final = frozenset({"heaped", "heaping", "rounded", "scant", "generous", "level"})


def parse_amount(text: str) -> Amount:
    """Read one amount: "1 1/2 cups", "½ tsp", "225 g", "1 can (15 oz)", "1/4 cup + 2 tbsp".

    Parameters
    ----------
    text : str
        The amount alone, without the food and its preparation.

    Returns
    -------
    Amount
        Exact; ``parse_amount(str(amount)) == amount`` for every amount.

    Raises
    ------
    BadInput
        With one problem for each term that cannot be read: no number, an unknown unit, a range,
        nothing or less, a number no cook writes.

    Examples
    --------
    >>> str(parse_amount("1½ Tablespoons plus 1 t"))
    '1 1/2 tbsp + 1 tsp'
    """
    shown = " ".join(text.split())
    where = f"amount '{shown if len(shown) <= _SHOWN else shown[: _SHOWN - 1] + '…'}'"
    tidy = _tidied(text)
    if not tidy:
        raise BadInput(Problem(where, "There is no amount.", "Write one such as 2 cups or 225 g."))
    parts = _JOINED.split(tidy)
    terms: list[Term] = []
    problems: list[Problem] = []
    for part in parts:
        try:
            terms.append(_term(part, alone=len(parts) == 1))
        except BadInput as bad:
            problems.extend(Problem(where, found.what, found.fix) for found in bad.problems)
    if problems:
        raise BadInput(problems)
    return Amount(tuple(terms))


def _tidied(text: str) -> str:
    """Write every kind of fraction, minus and space in one way."""
    out = []
    for char in text:
        plain = unicodedata.normalize("NFKC", char)
        if re.fullmatch(r"[0-9]+⁄[0-9]+", plain):
            # The space keeps 1½ from turning into 11/2.
            out.append(" " + plain + " ")
        else:
            out.append(char)
    joined = "".join(out).replace("⁄", "/").replace("∕", "/").replace("−", "-")
    return " ".join(joined.split())


def _bad(what: str, fix: str) -> BadInput:
    return BadInput(Problem("", what, fix))


def _term(text: str, *, alone: bool) -> Term:
    number, decimal, rest = _leading_number(text)
    rest, size = _bracketed(rest)
    inline = _STARTS.fullmatch(re.sub(r"^[x×] ?(?=[0-9.])", "", rest))
    if inline and size is None:
        rest, size = _size_first(inline)
    unit, qualifier = _unit_and_qualifier(rest)
    if unit == "":
        if not alone and not qualifier:
            raise _bad(f"'{text}' has no unit.", "Give every part of a sum its unit.")
        unit = "piece"
    if size is not None and UNITS[unit].kind is not Kind.PACK:
        raise _bad(
            f"Only a pack has a size in brackets, not a {unit}.",
            "Write one or the other amount, or a unit such as can, jar or pack.",
        )
    return Term(quantity=number, unit=unit, qualifier=qualifier, size=size, decimal=decimal)


def _leading_number(text: str) -> tuple[Fraction, bool, str]:
    """Split "1 1/2 cups" into the number, whether it has a decimal point, and the rest."""
    article = re.match(r"an? +(?=\S)", text, re.IGNORECASE)
    if article:
        return Fraction(1), False, text[article.end() :]
    _refuse_what_is_not_one_amount(text)
    found = _STARTS.fullmatch(text)
    if not text:
        raise _bad("There is nothing on one side of a plus sign.", "Write both parts, or no sign.")
    if not found:
        raise _bad(f"'{text}' has no number.", "Start with one, such as 2 cups or 1/2 tsp.")
    number, rest = found[1], found[2]
    if re.match(r",[0-9]", rest):
        raise _bad(
            "A comma in a number can be read in two ways.",
            "Write 0.5 with a point, and 1000 without a mark.",
        )
    joined = text[len(number) :].startswith(rest)
    if joined and re.match(r"[0-9./]|e[-+]?[0-9]", rest, re.IGNORECASE):
        raise _bad(f"'{text.split(maxsplit=1)[0]}' is not a number.", _NUMBERS)
    return *_number(number), rest


def _refuse_what_is_not_one_amount(text: str) -> None:
    if text.startswith("-"):
        raise _bad("An amount cannot be less than nothing.", "Write it without the minus sign.")
    mixed = _MIXED_OR_RANGE.match(text)
    if mixed:
        clear = f"{mixed[1]} {mixed[2]}{mixed[3]}"
        raise _bad("This can be read as a range or as one number.", f"Write {clear} for one.")
    if _RANGE.match(text):
        raise _bad("A range is not one amount.", "Write the one amount that the figures are for.")
    if _INEXACT.match(text):
        raise _bad("An amount is exact.", "Write the one amount that the figures are for.")
    if re.match(r"[-+]?(nan|inf|infinity)\b", text, re.IGNORECASE):
        raise _bad(f"'{text.split(maxsplit=1)[0]}' is not a number.", _NUMBERS)


def _number(text: str) -> tuple[Fraction, bool]:
    if any(len(digits) > _MOST_DIGITS for digits in re.findall(r"[0-9]+", text)):
        raise _bad("The number has too many digits.", f"Write at most {LARGEST}.")
    decimal = "." in text
    if decimal:
        if len(text.partition(".")[2]) > _MOST_DECIMALS:
            raise _bad("The number has too many decimals.", f"Write at most {_MOST_DECIMALS}.")
        value = Fraction(text.rstrip("."))
    else:
        *whole, top_bottom = text.replace(" /", "/").replace("/ ", "/").split()
        top, _, bottom = top_bottom.partition("/")
        if bottom and int(bottom) == 0:
            raise _bad("A fraction cannot have 0 below the line.", "Check the number.")
        part = Fraction(int(top), int(bottom or 1))
        if whole and part >= 1:
            raise _bad(f"'{text}' is not a mixed number.", "Its fraction must be less than 1.")
        value = part + sum(int(digits) for digits in whole)
    if value == 0:
        raise _bad("An amount must be more than nothing.", "Leave the line out instead.")
    if value > LARGEST:
        raise _bad(f"A number above {LARGEST} is no amount.", "Check the number or use kg.")
    return value, decimal


def _bracketed(rest: str) -> tuple[str, Term | None]:
    """Take "(15 oz)" out of the text after the number."""
    found = _BRACKET.search(rest)
    if not found:
        return rest, None
    without = f"{rest[: found.start()]} {rest[found.end() :]}".strip()
    return " ".join(without.split()), _size(found[1].strip())


def _size_first(inline: re.Match[str]) -> tuple[str, Term | None]:
    """Read "400 g cans" in "2 x 400 g cans": the size before its pack."""
    words = inline[2].replace("-", " ").split()
    for length in (2, 1):
        unit = canonical_unit(" ".join(words[:length]))
        if unit and len(words) > length:
            return " ".join(words[length:]), _size(f"{inline[1]} {unit}")
    raise _bad(f"'{inline[0]}' does not follow a number.", "Write a size as in 2 cans (15 oz).")


def _size(text: str) -> Term:
    spaced = re.sub(r"(?<=[0-9.])-(?=[A-Za-z])", " ", text)
    try:
        found = _term(spaced, alone=True)
    except BadInput:
        found = None
    if found is None or found.qualifier or UNITS[found.unit].kind not in (Kind.MASS, Kind.VOLUME):
        raise _bad(
            f"'{text}' is not the size of a pack.",
            "Put only its net weight or volume in brackets, such as (15 oz) or (400 g).",
        )
    return found


def _unit_and_qualifier(text: str) -> tuple[str, str]:
    """Read "large cloves" or "cup packed"; unit "" where the text names none."""
    words = re.sub(r"extra-large", "extra large", text, flags=re.IGNORECASE).split()
    unit = qualifier = ""
    at = 0
    while at < len(words):
        for length in (2, 1):
            phrase = " ".join(words[at : at + length])
            word = canonical_unit(phrase)
            if word and not unit:
                unit = word
            elif phrase.lower() in QUALIFIERS and not qualifier:
                qualifier = phrase.lower()
            else:
                continue
            at += length
            break
        else:
            raise _stray(words[at], has_unit=bool(unit or qualifier))
    return unit, qualifier


def _stray(word: str, *, has_unit: bool) -> BadInput:
    plain = word.strip(".,;").lower()
    if plain in _HEAPED:
        return _bad(f"'{word}' does not say how much.", "Write the amount in level measures.")
    if has_unit:
        return _bad(f"'{word}' is no part of an amount.", _PLACES)
    near = get_close_matches(plain, SPELLINGS, n=1, cutoff=0.7)
    if near:
        return _bad(f"There is no unit '{word}'.", f"Did you mean '{near[0]}'?")
    hint = f"Use one such as cup, tbsp, g or clove. {_PLACES}"
    return _bad(f"There is no unit '{word}'.", hint)

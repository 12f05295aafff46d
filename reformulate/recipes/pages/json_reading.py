"""JSON as values, mended where that is safe."""

from __future__ import annotations

import json
import re
from typing import Final

from reformulate.recipes.pages.markup import decode_entities
from reformulate.recipes.pages.mending import (
    CannotMend,
    has_quotes_as_entities,
    mended,
    unwrapped,
)
from reformulate.recipes.pages.notes import Notes

MOST_JSON: Final = 4_000_000
"""Most characters of JSON read of one page [count]; a recipe has some ten thousand."""
_MOST_TABLES: Final = 100_000
_MOST_VALUES: Final = 500_000
_MOST_TOGETHER: Final = 1000
_BETWEEN = re.compile(r"[\s,;]*+")
_CLOSERS = re.compile(r"[\s,;\]}]*+")


class CannotRead(Exception):  # noqa: N818 - as it reads in a sentence
    """JSON that cannot be read; the message says why."""


def read_json(text: str, what: str, notes: Notes) -> list[object]:
    """Return the values of JSON, usually one; several where they follow each other.

    Parameters
    ----------
    text
        The JSON, possibly broken.
    what
        What the notes call it.
    notes
        Told what was mended.

    Raises
    ------
    CannotRead
        If it is too large, or broken in a way that cannot be mended safely.
    """
    _refuse_too_large(text)
    try:
        return [_DECODER.decode(text)]
    except RecursionError:
        raise CannotRead("its lists and tables are nested too deep") from None
    except ValueError:
        pass
    whole, done = unwrapped(text)
    if has_quotes_as_entities(whole):
        whole = decode_entities(whole)
        done.add("quotation marks written as entities")
    if not whole:
        raise CannotRead("it is empty")
    try:
        values, rest = _together(whole)
        if rest:
            whole, more = mended(whole)
            values, rest = _together(whole)
            done |= more
    except CannotMend as reason:
        raise CannotRead(str(reason)) from None
    except RecursionError:
        raise CannotRead("its lists and tables are nested too deep") from None
    if not values:
        raise CannotRead(_place(whole, rest))
    if len(values) > 1:
        done.add("several values one after the other")
    if rest:
        notes.add(f"{what} is followed by something that is not JSON; that was left out.")
    if done:
        notes.add(f"{what} was broken and was mended: {', '.join(sorted(done))}.")
    return values


def _together(text: str) -> tuple[list[object], str]:
    """Return the values that follow each other, and why what comes after them is none (or "")."""
    values: list[object] = []
    at = 0
    for _ in range(_MOST_TOGETHER):
        skip = (_CLOSERS if values else _BETWEEN).match(text, at)
        at = skip.end() if skip else at
        if at >= len(text):
            return values, ""
        try:
            value, at = _DECODER.raw_decode(text, at)
        except json.JSONDecodeError as fault:
            return values, f"{fault.msg} at line {fault.lineno}, column {fault.colno}"
        except ValueError as fault:
            return values, str(fault)
        if not isinstance(value, dict | list):
            return values, "it is neither a table nor a list"
        values.append(value)
    return values, "it has too many values"


def _place(text: str, rest: str) -> str:
    if text.count("{") + text.count("[") > text.count("}") + text.count("]"):
        return f"it seems to end too early ({rest})"
    return rest or "it holds nothing"


def _refuse_too_large(text: str) -> None:
    if len(text) > MOST_JSON:
        raise CannotRead(f"it has more than {MOST_JSON // 1_000_000} million characters")
    if text.count("{") + text.count("[") > _MOST_TABLES:
        raise CannotRead(f"it has more than {_MOST_TABLES:_} lists and tables".replace("_", " "))
    if text.count(",") > _MOST_VALUES:
        raise CannotRead(f"it has more than {_MOST_VALUES:_} values".replace("_", " "))


def _whole_number(digits: str) -> float:
    # Python refuses to make a number of thousands of digits.
    return int(digits) if len(digits) < 20 else float(digits)


_DECODER: Final = json.JSONDecoder(parse_int=_whole_number)

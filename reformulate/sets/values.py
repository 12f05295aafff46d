"""Single values in a file's text: left alone where they are the same, else written anew."""

from __future__ import annotations

import tomllib
from difflib import SequenceMatcher
from enum import Enum
from typing import Any, Final

import tomlkit
from msgspec import NODEFAULT, Struct
from msgspec.structs import fields
from tomlkit.container import Container, OutOfOrderTableProxy
from tomlkit.items import Array, Item, Table

Values = dict[str, object]
Place = Container | Table | OutOfOrderTableProxy

LONGEST_ROW: Final = 90
"""A list of texts longer than this gets a row for each [character]."""


def write_values(place: Place, record: type[Struct], values: Values) -> None:
    """Make a table say ``values``; a value that is its field's default may stay unwritten."""
    defaults = {field.encode_name: field.default for field in fields(record)}
    for key, value in values.items():
        default = plain(defaults.get(key, NODEFAULT))
        now = plain(place[key]) if key in place else default
        if now is not NODEFAULT and _same(now, value):
            continue
        if value is None or (value in ("", ()) and value == default):
            del place[key]
        elif isinstance(value, tuple) and isinstance(place.get(key), Array):
            _write_list(place[key], value)
        else:
            place[key] = _item(value)


def plain(value: Any) -> Any:
    """Return a value as plain Python: no enumeration, no item of the text, tuples for lists."""
    if isinstance(value, Item):
        value = value.unwrap()
    if isinstance(value, Enum):
        return value.value
    return tuple(value) if isinstance(value, list) else value


def _write_list(array: Array, new: tuple[str, ...]) -> None:
    """Change only the texts of a list that differ, so that the rows keep their comments."""
    steps = SequenceMatcher(a=list(array.unwrap()), b=new, autojunk=False).get_opcodes()
    for what, low, high, first, last in reversed(steps):
        if what == "equal":
            continue
        both = min(high - low, last - first)
        for at in reversed(range(low + both, high)):
            del array[at]
        for offset in range(both):
            array[low + offset] = _item(new[first + offset])
        for offset in range(both, last - first):
            array.insert(low + offset, _item(new[first + offset]))


def _item(value: object) -> Item:
    if isinstance(value, tuple):
        array = tomlkit.array()
        array.extend(_item(text) for text in value)
        return array.multiline(len(value) > 1 and len(array.as_string()) > LONGEST_ROW)
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return tomlkit.item(int(value))
    if isinstance(value, str) and "\n" in value:
        rows = tomlkit.string(value, multiline=True)
        if _reads_as(rows.as_string(), value):
            return rows
    return tomlkit.item(value)


def _same(now: object, value: object) -> bool:
    """Whether two values are one in a file, where true is not 1."""
    return now == value and isinstance(now, bool) == isinstance(value, bool)


def _reads_as(text: str, value: str) -> bool:
    try:
        return bool(tomllib.loads(f"x = {text}")["x"] == value)
    except tomllib.TOMLDecodeError:
        return False

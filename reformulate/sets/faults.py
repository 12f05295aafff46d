"""Every fault in the shape of a file's data, in a cook's words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum
from types import NoneType, UnionType
from typing import Any, get_args, get_origin

import msgspec
from msgspec import Struct
from msgspec.structs import fields

from reformulate.errors import Problem
from reformulate.sets.schema import FORMAT

Data = dict[str, Any]
Record = type[Struct]


@dataclass(frozen=True, slots=True, kw_only=True)
class WrongFormat:
    """The number of a file's format is not the one this release reads."""

    problem: Problem
    newer: bool
    """True where a newer release wrote the file, so that nothing else in it can be judged."""


def format_problem(data: Data, name: str) -> WrongFormat | None:
    """Return what is wrong with the number of the format, if anything is."""
    found = data.get("format")
    where = f"{name}, format"
    fix = f"Write format = {FORMAT}."
    if "format" not in data:
        near = _nearest("format", list(data))
        hint = f"Did you mean it by '{near[0]}'?" if near else fix
        missing = Problem(where, f"is missing, expected {FORMAT}.", hint)
        return WrongFormat(problem=missing, newer=False)
    if type(found) is int and found == FORMAT:
        return None
    if type(found) is int and found > FORMAT:
        later = Problem(
            where,
            f"found {_digits(found)}, expected {FORMAT}; written by a newer release.",
            "Open it with the release that wrote it, or a later one.",
        )
        return WrongFormat(problem=later, newer=True)
    other = Problem(where, f"found {_found(found)}, expected {FORMAT}.", fix)
    return WrongFormat(problem=other, newer=False)


def shape_problems(
    data: Data, record: Record, where: str, but: tuple[str, ...] = ()
) -> Iterator[Problem]:
    """Yield each place where data does not have the shape of a record.

    Parameters
    ----------
    data
        A table as TOML gives it.
    record
        The record it is to become.
    where
        What the messages begin with: the file, and the way to the table.
    but
        Keys that are judged elsewhere.
    """
    unread = _unread(data, record)
    blamed = set(but)
    for field in fields(record):
        key = field.encode_name
        if key in but:
            continue
        if key in data:
            yield from _value_problems(data[key], field.type, f"{where}, {key}", key)
        elif field.required:
            near = _nearest(key, unread)
            blamed.update(near)
            yield Problem(
                f"{where}, {key}",
                f"is missing, expected {_expected(field.type)}.",
                f"Did you mean it by '{near[0]}'?" if near else _how(key, field.type),
            )
    for key, meant in _misspelt(data, record):
        if key not in blamed and meant not in but:
            yield _unread_problem(where, key, meant)


def near_misses(data: Data, record: Record, where: str) -> Iterator[Problem]:
    """Yield the keys that are not read and look like a misspelt one, in tables within as well."""
    for key, meant in _misspelt(data, record):
        yield _unread_problem(where, key, meant)
    for field in fields(record):
        value = data.get(field.encode_name)
        for number, table in enumerate(value if isinstance(value, list) else [value], start=1):
            chosen = _of_kind(table, _records(field.type)) if isinstance(table, dict) else None
            if chosen is not None:
                place = f" {number}" if isinstance(value, list) else ""
                yield from near_misses(table, chosen, f"{where}, {field.encode_name}{place}")


def _misspelt(data: Data, record: Record) -> Iterator[tuple[str, str]]:
    absent = [f.encode_name for f in fields(record) if f.encode_name not in data]
    for key in _unread(data, record):
        for meant in _nearest(key, absent):
            yield key, meant


def _unread_problem(where: str, key: str, meant: str) -> Problem:
    return Problem(f"{where}, {_short(key)}", "is not read.", f"Did you mean '{meant}'?")


def _value_problems(value: object, kind: Any, where: str, key: str) -> Iterator[Problem]:
    records = _records(kind)
    if not records:
        yield from _leaf_problems(value, kind, where, key)
    elif get_origin(kind) is tuple:
        if not isinstance(value, list):
            header = "line" if key == "line" else f"brief.{key}"
            yield Problem(
                where,
                f"found {_found(value)}, expected tables.",
                f"Begin each with a row [[{header}]].",
            )
            return
        for number, table in enumerate(value, start=1):
            yield from _table_problems(table, records, f"{where} {number}")
    else:
        yield from _table_problems(value, records, where)


def _table_problems(table: object, records: tuple[Record, ...], where: str) -> Iterator[Problem]:
    if not isinstance(table, dict):
        yield Problem(where, f"found {_found(table)}, expected a table.", "Write key = value rows.")
        return
    chosen = _of_kind(table, records)
    if chosen is not None:
        yield from shape_problems(table, chosen, where)
        return
    kinds = [str(record.__struct_config__.tag) for record in records]
    found = table.get("kind")
    near = _nearest(found, kinds) if isinstance(found, str) else []
    what = f"found {_found(found)}" if "kind" in table else "is missing"
    yield Problem(
        f"{where}, kind",
        f"{what}, expected one of: {', '.join(kinds)}.",
        f"Did you mean '{near[0]}'?" if near else "Write one of them.",
    )


def _leaf_problems(value: object, kind: Any, where: str, key: str) -> Iterator[Problem]:
    try:
        msgspec.convert(value, kind)
    except msgspec.ValidationError as error:
        inner = re.search(r"`\$\[(\d+)\]", str(error))
        if inner and isinstance(value, list):
            item = value[int(inner[1])]
            yield Problem(
                f"{where} {int(inner[1]) + 1}",
                f"found {_found(item)}, expected text.",
                "Write text in quotation marks.",
            )
            return
        choices = _choices(kind)
        near = _nearest(value, choices) if isinstance(value, str) else []
        yield Problem(
            where,
            f"found {_found(value)}, expected {_expected(kind)}.",
            f"Did you mean '{near[0]}'?" if near else _how(key, kind),
        )


def _records(kind: Any) -> tuple[Record, ...]:
    """Return the records a field may hold, none for plain values."""
    if isinstance(kind, type) and issubclass(kind, Struct):
        return (kind,)
    if isinstance(kind, UnionType) or get_origin(kind) is tuple:
        return tuple(record for part in get_args(kind) for record in _records(part))
    return ()


def _of_kind(table: Data, records: tuple[Record, ...]) -> Record | None:
    if len(records) == 1:
        return records[0]
    kind = table.get("kind")
    return next((r for r in records if r.__struct_config__.tag == kind), None)


def _unread(data: Data, record: Record) -> list[str]:
    known = {field.encode_name for field in fields(record)} | {record.__struct_config__.tag_field}
    return [key for key in data if key not in known]


def _plain(kind: Any) -> Any:
    """Return a type without its "or nothing"."""
    if isinstance(kind, UnionType):
        return next(part for part in get_args(kind) if part is not NoneType)
    return kind


def _choices(kind: Any) -> list[str]:
    plain = _plain(kind)
    return list(plain) if isinstance(plain, type) and issubclass(plain, StrEnum) else []


def _expected(kind: Any) -> str:
    plain = _plain(kind)
    if choices := _choices(kind):
        return f"one of: {', '.join(choices)}"
    if get_origin(plain) is tuple:
        return "a list of texts"
    return {float: "a number", int: "a whole number", bool: "true or false"}.get(plain, "text")


def _how(key: str, kind: Any) -> str:
    plain = _plain(kind)
    if choices := _choices(kind):
        return f'Write {key} = "{choices[0]}", for example.'
    if get_origin(plain) is tuple:
        return f'Write {key} = ["...", "..."].'
    example = {float: "1.5", int: "1", bool: "true"}.get(plain, '"..."')
    return f"Write it as in {key} = {example}."


def _found(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f"the text '{_short(value)}'"
    if isinstance(value, int | float):
        return f"the number {_digits(value) if isinstance(value, int) else format(value, 'g')}"
    if isinstance(value, list | dict):
        return "a list" if isinstance(value, list) else "a table"
    return "a date or time"


def _digits(value: int) -> str:
    """Return a whole number in digits, where it has not too many for a message."""
    return str(value) if abs(value) < 10**15 else "of more than 15 digits"


def _short(text: str) -> str:
    return text if len(text) <= 40 else f"{text[:37]}..."


def _nearest(word: str, known: list[str]) -> list[str]:
    # The matcher takes time with the product of the lengths.
    return get_close_matches(word[:60], [k for k in known if len(k) <= 60], n=1, cutoff=0.7)

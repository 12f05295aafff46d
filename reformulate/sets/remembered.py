"""Remembering in a set's file which food the user's words for an ingredient mean."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import tomlkit
from msgspec import convert
from tomlkit.container import Container
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array, Table, Trivia

from reformulate.errors import BadInput, FileProblem, Problem
from reformulate.sets.atomic import write_atomically
from reformulate.sets.comments import take_comments
from reformulate.sets.loading import decode, load_bytes, parse
from reformulate.sets.reading import record_from
from reformulate.sets.schema import FORMAT, SET_FILE, MatchRecord, SetRecord
from reformulate.sets.writing import MARK


def remember_matches(folder: Path, foods: Mapping[str, str]) -> None:
    """Write into a set's file which food each of the user's words means.

    Words that are there already get the new food in their place; comments, order and keys that
    are not ours stay. Where the folder has no set file, one is made.

    Parameters
    ----------
    folder
        The set's folder.
    foods
        Keys of foods by the words for them.

    Raises
    ------
    BadInput
        If the set file there is broken, or words or food are empty; nothing is written.
    FileProblem
        If it cannot be read or written; the file on disk is then as it was.
    """
    empty = [words for words, food in foods.items() if not words.strip() or not food.strip()]
    if empty:
        raise BadInput(
            Problem(SET_FILE, "words or food are empty.", "Give both, to remember a choice.")
        )
    path = Path(folder) / SET_FILE
    data = load_bytes(path) if _is_there(path) else None
    new = _written(data, path, dict(foods))
    if new != data:
        write_atomically(path, new)


def _is_there(path: Path) -> bool:
    try:
        return path.exists()
    except (OSError, ValueError):
        return True  # Reading says what is wrong with the path.


def _written(data: bytes | None, path: Path, foods: dict[str, str]) -> bytes:
    """Return the bytes of the set file with the choices in it; FileProblem where that fails."""
    if data is None:
        title = path.parent.resolve().name or "Recipes"
        text = tomlkit.dumps({"format": FORMAT, "title": title})
    else:
        text = decode(data, path.name)
    rows = text.replace("\r\n", "\n")
    before = parse(rows, path.name)
    record_from(before, SetRecord, path.name)
    if data is not None and _matches(before) == {**_matches(before), **foods}:
        return data
    try:
        new = _edited(rows, foods)
    except (TOMLKitError, ValueError, LookupError, TypeError, AttributeError, RuntimeError):
        raise _cannot_keep(path) from None
    if not _keeps(before, new, path, foods):
        raise _cannot_keep(path)
    if "\r\n" in text:
        new = new.replace("\n", "\r\n")
    return (MARK if data is not None and data.startswith(MARK) else b"") + new.encode()


def _edited(rows: str, foods: Mapping[str, str]) -> str:
    root = tomlkit.parse(rows if not rows or rows.endswith("\n") else rows + "\n")
    comments = take_comments(root)
    found: Any = root.get("match")
    if isinstance(found, Array):
        # Tables within one row get rows of their own.
        listed = found.unwrap()
        del root["match"]
        root["match"] = found = tomlkit.item(listed)
    old: set[str] = set()
    for table in found.body if isinstance(found, AoT) else []:
        words = str(table.get("words", ""))
        old.add(words)
        if words in foods and str(table.get("food", "")) != foods[words]:
            table["food"] = foods[words]
    new = [_table(words, food) for words, food in foods.items() if words not in old]
    if new and isinstance(found, AoT):
        found.body.extend(new)
    elif new:
        root["match"] = AoT(new)
    comments.put_back()
    return root.as_string() + comments.at_end


def _table(words: str, food: str) -> Table:
    table = Table(Container(), Trivia(indent="\n"), is_aot_element=True)
    table["words"] = words
    table["food"] = food
    return table


def _keeps(before: dict[str, Any], new: str, path: Path, foods: Mapping[str, str]) -> bool:
    """Whether a text says the choices, and all else that was said before."""
    try:
        after = parse(new, path.name)
        record_from(after, SetRecord, path.name)
    except BadInput:
        return False
    others = [{k: v for k, v in data.items() if k != "match"} for data in (before, after)]
    if repr(others[0]) != repr(others[1]):
        return False
    own = [_own_keys(data) for data in (before, after)]
    kept = own[1][: len(own[0])] == own[0]
    return kept and _matches(after) == {**_matches(before), **foods}


def _matches(data: Mapping[str, Any]) -> dict[str, str]:
    found = convert(data.get("match", ()), tuple[MatchRecord, ...])
    return {match.words: match.food for match in found}


def _own_keys(data: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Return of every match what is not ours: words and the cook's own keys."""
    return [{k: v for k, v in match.items() if k != "food"} for match in data.get("match", ())]


def _cannot_keep(path: Path) -> FileProblem:
    return FileProblem(
        Problem(
            str(path),
            "could not be written so that it keeps all that is in it. Nothing was changed.",
            "Add the [[match]] by hand, or set the file out more plainly.",
        )
    )

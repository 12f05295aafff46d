"""Remembering in a set's file which food the user's words for an ingredient mean."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import tomlkit
from msgspec import convert

from reformulate.errors import BadInput, FileProblem, Problem
from reformulate.sets.atomic import write_atomically
from reformulate.sets.comments import take_comments
from reformulate.sets.reading import record_from
from reformulate.sets.rewriting import FileText, existing
from reformulate.sets.schema import FORMAT, SET_FILE, MatchRecord, SetRecord
from reformulate.sets.tables import new_table, put_tables, set_out, tables_of


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
    data = existing(path)
    new = _written(data, path, dict(foods))
    if new != data:
        write_atomically(path, new)


def _written(data: bytes | None, path: Path, foods: dict[str, str]) -> bytes:
    """Return the bytes of the set file with the choices in it; FileProblem where that fails."""
    title = path.parent.resolve().name or "Recipes"
    made = tomlkit.dumps({"format": FORMAT, "title": title}).encode()
    file = FileText.of(made if data is None else data, path.name)
    record_from(file.says, SetRecord, path.name)
    if data is not None and _matches(file.says) == {**_matches(file.says), **foods}:
        return data
    new = file.rewritten(
        lambda rows: _edited(rows, foods),
        lambda after: _keeps(file.says, after, path, foods),
    )
    if new is not None:
        return new
    raise FileProblem(
        Problem(
            str(path),
            "could not be written so that it keeps all that is in it. Nothing was changed.",
            "Add the [[match]] by hand, or set the file out more plainly.",
        )
    )


def _edited(rows: str, foods: Mapping[str, str]) -> str:
    root = tomlkit.parse(rows if not rows or rows.endswith("\n") else rows + "\n")
    comments = take_comments(root)
    set_out(root, "match")
    tables = tables_of(root, "match")
    by_words = {str(table.get("words", "")): table for table in tables}
    for words, food in foods.items():
        if words not in by_words:
            tables.append(new_table(in_array=True))
            tables[-1]["words"] = words
        table = by_words.get(words, tables[-1])
        if str(table.get("food", "")) != food:
            table["food"] = food
    put_tables(root, "match", tables)
    comments.put_back()
    return root.as_string() + comments.at_end


def _keeps(
    before: dict[str, Any], after: dict[str, Any], path: Path, foods: Mapping[str, str]
) -> bool:
    """Whether the data says the choices, and all else that was said before."""
    try:
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

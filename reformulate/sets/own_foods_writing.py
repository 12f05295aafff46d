"""Saving own foods into a set's ``foods.toml``: only what has changed is written anew."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from msgspec.structs import fields

from reformulate.errors import BadInput, FileProblem, Problem
from reformulate.foods.own import OwnFood
from reformulate.foods.own.table import own_foods_problems
from reformulate.sets.atomic import write_atomically
from reformulate.sets.loading import LARGEST_FILE
from reformulate.sets.own_foods import (
    OWN_FOODS_FILE,
    OwnFoodRecord,
    StatedRecord,
    own_foods_from,
)
from reformulate.sets.own_foods_editing import edited
from reformulate.sets.rewriting import FileText, existing, refuse_changed

Foods = tuple[OwnFood, ...]


def write_own_food(folder: Path, food: OwnFood, expected_digest: str | None = None) -> None:
    """Save one own food into its set; see `write_own_foods`."""
    write_own_foods(folder, (food,), expected_digest)


def write_own_foods(
    folder: Path, foods: Sequence[OwnFood], expected_digest: str | None = None
) -> None:
    """Save own foods into their set, all of them or none; one of the same key is replaced.

    In a file that is there already only what has changed is written anew: comments, order and keys
    that are not ours stay.

    Parameters
    ----------
    folder
        The set's.
    foods
        What is added or replaced.
    expected_digest
        The ``digest`` of the file when it was last read or written ("" for a file that was not
        there); None to write whatever is there now.

    Raises
    ------
    BadInput
        If a food has something that must be put right first, or the file there has.
    FileProblem
        If the file has been changed by another program, or cannot be written. The file on disk is
        then as it was.
    """
    problems = list(own_foods_problems(foods))
    if problems:
        raise BadInput(problems)
    new = {food.key: food for food in foods}

    def change(old: Foods) -> Foods:
        kept = tuple(new.get(food.key, food) for food in old)
        there = {food.key for food in old}
        return (*kept, *(food for food in foods if food.key not in there))

    _change(Path(folder), change, expected_digest)


def remove_own_food(folder: Path, key: str, expected_digest: str | None = None) -> None:
    """Take an own food out of its set.

    Raises
    ------
    BadInput
        If there is no food of that key, or the file has something that must be put right.
    FileProblem
        As for `write_own_foods`.
    """

    def change(old: Foods) -> Foods:
        if all(food.key != key for food in old):
            what = f"has no food with the key “{key[:40]}”."
            known = ", ".join(food.key for food in old[:10])
            fix = f"It has {known}." if known else "It has no foods."
            raise BadInput(Problem(OWN_FOODS_FILE, what, fix))
        return tuple(food for food in old if food.key != key)

    _change(Path(folder), change, expected_digest)


def _change(folder: Path, change: Callable[[Foods], Foods], expected_digest: str | None) -> None:
    path = folder / OWN_FOODS_FILE
    data = existing(path)
    refuse_changed(path, data, expected_digest, "Open the set again.")
    file = FileText.of(data, path.name)
    old = own_foods_from(file.says) if file.rows else ()
    new = _written(change(old), old, file)
    if len(new) > LARGEST_FILE:
        what = f"would be larger than {LARGEST_FILE // 1_000_000} MB. Nothing was changed."
        raise FileProblem(Problem(str(path), what, "Keep fewer own foods in one set."))
    if new != data:
        write_atomically(path, new)


def render_own_foods(foods: Foods, data: bytes | None = None) -> bytes:
    """Return the bytes of a file of own foods, given those that are there now.

    Raises
    ------
    BadInput
        If the file there has something that must be put right.
    FileProblem
        If it is not TOML, or the foods do not come back the same.
    """
    file = FileText.of(data, OWN_FOODS_FILE)
    return _written(foods, own_foods_from(file.says) if file.rows else (), file)


def _written(foods: Foods, old: Foods, file: FileText) -> bytes:
    if file.data is not None and file.rows and old == foods:
        return file.data
    new = file.rewritten(
        lambda rows: edited(rows, foods, old),
        lambda after: _says(after, foods) and _keeps(file.says, after),
    )
    if new is not None:
        return new
    what = "could not be written so that it reads the same again. Nothing was changed."
    raise FileProblem(
        Problem(OWN_FOODS_FILE, what, "Look for unusual characters in the texts of its foods.")
    )


def _says(data: dict[str, Any], foods: Foods) -> bool:
    try:
        return own_foods_from(data) == foods
    except BadInput:
        return False


def _keeps(before: dict[str, Any], after: dict[str, Any]) -> bool:
    """Whether all that is not ours is still there."""
    was, now = _by_key(before), _by_key(after)
    return _not_ours(before, {"format", "food"}) == _not_ours(after, {"format", "food"}) and all(
        _not_ours_of(table) == _not_ours_of(now[key]) for key, table in was.items() if key in now
    )


def _by_key(data: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {str(table.get("key", "")): table for table in data.get("food", [])}


def _not_ours_of(food: dict[str, Any]) -> tuple[object, object]:
    ours = {*(field.encode_name for field in fields(OwnFoodRecord)), "stated", "measure"}
    figures = {field.encode_name for field in fields(StatedRecord)}
    return _not_ours(food, ours), _not_ours(food.get("stated", {}), figures)


def _not_ours(table: dict[str, Any], ours: set[str]) -> object:
    # By their looks: nan is nan.
    return {key: repr(value) for key, value in table.items() if key not in ours}

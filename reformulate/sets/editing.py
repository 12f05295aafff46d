"""Writing a document into the text of its file: only what has changed is written anew."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Sequence
from typing import Any

import tomlkit
from msgspec import Struct
from msgspec.structs import fields
from tomlkit.container import Container, OutOfOrderTableProxy
from tomlkit.items import Table

from reformulate.brief import Brief, Goal, Hold, Swap
from reformulate.recipes import Line, Recipe
from reformulate.sets.comments import take_comments
from reformulate.sets.documents import Document
from reformulate.sets.ids import ids_to_write, line_ids
from reformulate.sets.matching import (
    HOLD_RECORDS,
    goal_keys,
    hold_keys,
    line_keys,
    paired,
    swap_keys,
    tag_of,
)
from reformulate.sets.schema import (
    FORMAT,
    BriefRecord,
    ClaimRecord,
    GoalRecord,
    LineRecord,
    RecipeRecord,
    SwapRecord,
)
from reformulate.sets.tables import new_table, put_tables, set_out, tables_of
from reformulate.sets.values import Place, Values, plain, write_values


def edited(text: str, document: Document) -> str:
    r"""Return a recipe file's text with a document written into it.

    Parameters
    ----------
    text
        The file as it is, with ``\n`` ends; may be empty.
    document
        What it is to say. Comments, order and keys that are not ours stay.
    """
    root = tomlkit.parse(text if not text or text.endswith("\n") else text + "\n")
    comments = take_comments(root)
    recipe = document.recipe
    write_values(root, RecipeRecord, {"format": FORMAT, **_values(recipe, RecipeRecord)})
    _write_lines(root, recipe.lines)
    _write_claims(root, recipe.claims)
    _write_brief(root, document.brief)
    comments.put_back()
    return root.as_string() + comments.at_end


def _write_lines(root: Container, lines: Sequence[Line]) -> None:
    set_out(root, "line")
    old = tables_of(root, "line")
    names = line_ids([(str(t.get("id", "")), str(t.get("food", ""))) for t in old])
    now = [{"id": name} for name in names]
    matched = paired(now, lines, line_keys)
    written = frozenset(
        line.id
        for line, place in zip(lines, matched, strict=True)
        if place is not None and old[place].get("id")
    )
    must = ids_to_write([(line.id, line.food) for line in lines], written)
    values = [
        {**_values(line, LineRecord), "id": line.id if line.id in must else ""} for line in lines
    ]
    _write_tables(root, "line", old, matched, [(LineRecord, value) for value in values])


def _write_claims(root: Container, claims: Sequence[tuple[str, float]]) -> None:
    set_out(root, "claim")
    old = tables_of(root, "claim")
    places = {str(table.get("nutrient", "")): number for number, table in enumerate(old)}
    values: list[tuple[type[Struct], Values]] = [
        (ClaimRecord, {"nutrient": key, "value": value}) for key, value in claims
    ]
    _write_tables(root, "claim", old, [places.get(key) for key, _ in claims], values)


def _write_brief(root: Container, brief: Brief) -> None:
    set_out(root, "brief")
    table: Any = root.get("brief")
    if not isinstance(table, Table | OutOfOrderTableProxy):
        if table is not None:
            del root["brief"]
        root["brief"] = new_table(in_array=False)
        table = root["brief"]
    if isinstance(table, Table):
        for key in ("goal", "hold", "swap"):
            set_out(table, key)
    write_values(table, BriefRecord, _values(brief, BriefRecord))
    goals = [(GoalRecord, _values(goal, GoalRecord)) for goal in brief.goals]
    holds = [(HOLD_RECORDS[type(h)], _values(h, HOLD_RECORDS[type(h)])) for h in brief.holds]
    swaps = [(SwapRecord, _values(swap, SwapRecord)) for swap in brief.swaps]
    _match_tables(table, "goal", brief.goals, goal_keys, goals)
    _match_tables(table, "hold", brief.holds, hold_keys, holds)
    _match_tables(table, "swap", brief.swaps, swap_keys, swaps)


def _match_tables(
    place: Place,
    key: str,
    new: Sequence[Goal] | Sequence[Hold] | Sequence[Swap],
    keys: Callable[[Any], tuple[object, object]],
    values: Sequence[tuple[type[Struct], Values]],
) -> None:
    old = tables_of(place, key)
    _write_tables(place, key, old, paired([t.unwrap() for t in old], new, keys), values)


def _write_tables(
    place: Place,
    key: str,
    old: Sequence[Table],
    matched: Sequence[int | None],
    values: Sequence[tuple[type[Struct], Values]],
) -> None:
    """Make an array of tables say ``values``, each in its old table where it has one."""
    tables = []
    for at, (record, value) in zip(matched, values, strict=True):
        table = new_table(in_array=True) if at is None else old[at]
        write_values(table, record, value)
        tables.append(table)
    put_tables(place, key, tables)


def _values(value: Recipe | Line | Brief | Goal | Hold | Swap, record: type[Struct]) -> Values:
    """Return what a record's table says of a value; names are the same in both."""
    found: Values = {"kind": tag} if (tag := tag_of(record)) else {}
    own = {field.name for field in dataclasses.fields(value)}
    for field in fields(record):
        if field.name in own:
            found[field.encode_name] = plain(getattr(value, field.name))
    return found

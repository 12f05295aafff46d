"""Writing a document into the text of its file: only what has changed is written anew."""

from __future__ import annotations

import dataclasses
import tomllib
from collections.abc import Callable, Sequence
from difflib import SequenceMatcher
from enum import Enum
from typing import Any

import tomlkit
from msgspec import NODEFAULT, Struct
from msgspec.structs import fields
from tomlkit.container import Container, OutOfOrderTableProxy
from tomlkit.items import AoT, Array, InlineTable, Item, Table, Trivia

from reformulate.brief import BatchHold, Brief, Goal, Hold, LineHold, RatioHold, RoleHold, Swap
from reformulate.recipes import Line, Recipe
from reformulate.sets.comments import Body, take_comments
from reformulate.sets.documents import Document
from reformulate.sets.ids import ids_to_write, line_ids
from reformulate.sets.schema import (
    FORMAT,
    BatchHoldRecord,
    BriefRecord,
    GoalRecord,
    LineHoldRecord,
    LineRecord,
    RatioHoldRecord,
    RecipeRecord,
    RoleHoldRecord,
    SwapRecord,
)

Values = dict[str, object]
Place = Container | Table | OutOfOrderTableProxy

LONGEST_ROW = 90
"""A list of texts longer than this gets a row for each [character]."""

HOLD_RECORDS: dict[type[Hold], type[Struct]] = {
    RatioHold: RatioHoldRecord,
    BatchHold: BatchHoldRecord,
    LineHold: LineHoldRecord,
    RoleHold: RoleHoldRecord,
}


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
    _write(root, RecipeRecord, {"format": FORMAT, **_values(recipe, RecipeRecord)})
    _write_lines(root, recipe.lines)
    _write_brief(root, document.brief)
    comments.put_back()
    return root.as_string() + comments.at_end


def goal_keys(goal: Any) -> tuple[object, object]:
    """Return by what a goal's table is found again: nutrient and unit, else the nutrient."""
    per = _plain(_get(goal, "per", "serving"))
    return (_get(goal, "nutrient"), per), _get(goal, "nutrient")


def hold_keys(hold: Any) -> tuple[object, object]:
    """Return by what a hold's table is found again: what it holds."""
    kind = hold.get("kind") if isinstance(hold, dict) else _tag(HOLD_RECORDS[type(hold)])
    parts = [_plain(_get(hold, key, None)) for key in ("of", "to", "line", "role")]
    return repr((kind, parts)), None


def swap_keys(swap: Any) -> tuple[object, object]:
    """Return by what a swap's table is found again: food and lines, else the food."""
    food = _get(swap, "food")
    return repr((food, _plain(_get(swap, "stands_in_for", ())))), repr(food)


def line_keys(line: Any) -> tuple[object, object]:
    """Return by what a line's table is found again: its id."""
    return _get(line, "id"), None


def _write_lines(root: Container, lines: Sequence[Line]) -> None:
    _set_out(root, root.body, "line")
    old = _tables(root, "line")
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


def _write_brief(root: Container, brief: Brief) -> None:
    _set_out(root, root.body, "brief")
    table: Any = root.get("brief")
    if not isinstance(table, Table | OutOfOrderTableProxy):
        if table is not None:
            del root["brief"]
        root["brief"] = Table(
            Container(), Trivia(indent="\n"), is_aot_element=False, is_super_table=False
        )
        table = root["brief"]
    if isinstance(table, Table):
        for key in ("goal", "hold", "swap"):
            _set_out(table, table.value.body, key)
    _write(table, BriefRecord, _values(brief, BriefRecord))
    goals = [(GoalRecord, _values(goal, GoalRecord)) for goal in brief.goals]
    holds = [(HOLD_RECORDS[type(h)], _values(h, HOLD_RECORDS[type(h)])) for h in brief.holds]
    swaps = [(SwapRecord, _values(swap, SwapRecord)) for swap in brief.swaps]
    _match_tables(table, "goal", brief.goals, goal_keys, goals)
    _match_tables(table, "hold", brief.holds, hold_keys, holds)
    _match_tables(table, "swap", brief.swaps, swap_keys, swaps)


def _set_out(place: Place, body: Body, key: str) -> None:
    """Give tables that are written within a row, or in dotted keys, rows of their own."""
    dotted = any(k is not None and k.key == key and k.is_dotted() for k, _ in body)
    if dotted or isinstance(place.get(key), Array | InlineTable):
        data = place[key].unwrap()
        del place[key]
        place[key] = tomlkit.item(data)


def _match_tables(
    place: Place,
    key: str,
    new: Sequence[Goal] | Sequence[Hold] | Sequence[Swap],
    keys: Callable[[Any], tuple[object, object]],
    values: Sequence[tuple[type[Struct], Values]],
) -> None:
    old = _tables(place, key)
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
        table = _new_table() if at is None else old[at]
        _write(table, record, value)
        tables.append(table)
    existing = place.get(key)
    if isinstance(existing, AoT) and tables:
        existing.body[:] = tables
        return
    if existing is not None:
        del place[key]
    if tables:
        place[key] = AoT(tables)


def _write(place: Place, record: type[Struct], values: Values) -> None:
    """Make a table say ``values``; a value that is its field's default may stay unwritten."""
    defaults = {field.encode_name: field.default for field in fields(record)}
    for key, value in values.items():
        default = _plain(defaults.get(key, NODEFAULT))
        now = _plain(place[key]) if key in place else default
        if now is not NODEFAULT and _same(now, value):
            continue
        if value is None or (value in ("", ()) and value == default):
            del place[key]
        elif isinstance(value, tuple) and isinstance(place.get(key), Array):
            _write_list(place[key], value)
        else:
            place[key] = _item(value)


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


def paired(
    old: Sequence[Any], new: Sequence[Any], keys: Callable[[Any], tuple[object, object]]
) -> tuple[int | None, ...]:
    """Return for each new value the place of the old one that it replaces, or None.

    ``keys`` gives a first key, by which most are found, and a second for those that are left.
    """
    found: list[int | None] = [None] * len(new)
    free = dict.fromkeys(range(len(old)))
    for which in (0, 1):
        for number, value in enumerate(new):
            wanted = keys(value)[which]
            if found[number] is not None or wanted is None:
                continue
            place = next((at for at in free if keys(old[at])[which] == wanted), None)
            if place is not None:
                found[number] = place
                del free[place]
    return tuple(found)


def _values(value: Recipe | Line | Brief | Goal | Hold | Swap, record: type[Struct]) -> Values:
    """Return what a record's table says of a value; names are the same in both."""
    found: Values = {"kind": tag} if (tag := _tag(record)) else {}
    own = {field.name for field in dataclasses.fields(value)}
    for field in fields(record):
        if field.name in own:
            found[field.encode_name] = _plain(getattr(value, field.name))
    return found


def _tables(place: Place, key: str) -> list[Table]:
    found = place.get(key)
    return list(found.body) if isinstance(found, AoT) else []


def _new_table() -> Table:
    return Table(Container(), Trivia(indent="\n"), is_aot_element=True)


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


def _tag(record: type[Struct]) -> str:
    return str(record.__struct_config__.tag or "")


def _plain(value: Any) -> Any:
    if isinstance(value, Item):
        value = value.unwrap()
    if isinstance(value, Enum):
        return value.value
    return tuple(value) if isinstance(value, list) else value


def _get(value: Any, key: str, default: object = "") -> Any:
    return value.get(key, default) if isinstance(value, dict) else getattr(value, key, default)

"""Keys of a file that are not ours: a newer release's or the cook's own. They are kept."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from msgspec import Struct
from msgspec.structs import fields

from reformulate.sets.ids import line_ids
from reformulate.sets.matching import HOLD_RECORDS, goal_keys, hold_keys, swap_keys
from reformulate.sets.schema import (
    BriefRecord,
    GoalRecord,
    LineRecord,
    RecipeRecord,
    SwapRecord,
)

Data = dict[str, Any]

HOLD_KEYS = {"kind"} | {f.encode_name for r in HOLD_RECORDS.values() for f in fields(r)}


def keeps_unknown(before: Data, after: Data) -> bool:
    """Whether every table that is in both still has all that is not ours.

    Parameters
    ----------
    before, after
        TOML data of a recipe file.
    """
    kept: dict[str, Data] = {}
    for name, table, _ in _own_tables(after):
        kept.setdefault(name, table)
    seen: set[str] = set()
    for name, table, ours in _own_tables(before):
        if name in seen or name not in kept:
            continue
        seen.add(name)
        for key, value in table.items():
            if key not in ours and _looks(kept[name].get(key)) != _looks(value):
                return False
    return True


def _own_tables(data: Data) -> Iterator[tuple[str, Data, set[str]]]:
    """Yield each table of the schema: a name for it, its data, the keys that are ours."""
    yield "recipe", data, _names(RecipeRecord)
    lines = _dicts(data.get("line"))
    ids = line_ids([(str(t.get("id", "")), str(t.get("food", ""))) for t in lines])
    for line, name in zip(lines, ids, strict=True):
        yield f"line {name}", line, _names(LineRecord)
    brief = data.get("brief")
    if not isinstance(brief, dict):
        return
    yield "brief", brief, _names(BriefRecord)
    for goal in _dicts(brief.get("goal")):
        yield f"goal {goal_keys(goal)[0]}", goal, _names(GoalRecord)
    for hold in _dicts(brief.get("hold")):
        yield f"hold {hold_keys(hold)[0]}", hold, HOLD_KEYS
    for swap in _dicts(brief.get("swap")):
        yield f"swap {swap_keys(swap)[0]}", swap, _names(SwapRecord)


def _looks(value: object) -> object:
    """Return a value to compare by: keys in any order, and nan is nan."""
    if isinstance(value, dict):
        return {key: _looks(part) for key, part in value.items()}
    return [_looks(part) for part in value] if isinstance(value, list) else repr(value)


def _names(record: type[Struct]) -> set[str]:
    return {field.encode_name for field in fields(record)}


def _dicts(value: object) -> list[Data]:
    return [item for item in value if isinstance(item, dict)] if isinstance(value, list) else []

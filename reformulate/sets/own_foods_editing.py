"""Writing own foods into the text of their file: only what has changed is written anew."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Any

import tomlkit
from msgspec.structs import fields
from tomlkit.container import Container
from tomlkit.items import AoT, Array, InlineTable, Table, Trivia

from reformulate.foods.own import OwnFood
from reformulate.sets.comments import all_comments, take_comments
from reformulate.sets.matching import paired
from reformulate.sets.own_foods import (
    MeasureRecord,
    OwnFoodRecord,
    StatedRecord,
    figures_data,
)
from reformulate.sets.schema import FORMAT
from reformulate.sets.values import plain, write_values

Foods = tuple[OwnFood, ...]

_MEASURE_KEYS = tuple(field.encode_name for field in fields(MeasureRecord))


def edited(text: str, foods: Foods, old_foods: Foods) -> str:
    r"""Return the text of a file of own foods with foods written into it.

    Parameters
    ----------
    text
        The file as it is, with ``\n`` ends; may be empty.
    foods
        What it is to say, in order.
    old_foods
        What it says now: a food that stays is left as it is written.
    """
    root = tomlkit.parse(text if not text or text.endswith("\n") else text + "\n")
    comments = take_comments(root)
    write_values(root, OwnFoodRecord, {"format": FORMAT})
    _set_out(root, "food")
    existing = root.get("food")
    old = list(existing.body) if isinstance(existing, AoT) else []
    by_key = {str(plain(table.get("key", ""))): table for table in old}
    was = {food.key: food for food in old_foods}
    tables = []
    for food in foods:
        table = by_key.get(food.key)
        if table is None:
            table = _new_table()
        if was.get(food.key) != food:
            _write_food(table, food, was.get(food.key))
        tables.append(table)
    _put(root, "food", tables)
    comments.put_back()
    return root.as_string() + comments.at_end


def _write_food(table: Table, food: OwnFood, old: OwnFood | None) -> None:
    own = {field.encode_name: plain(getattr(food, field.name)) for field in fields(OwnFoodRecord)}
    write_values(table, OwnFoodRecord, own)
    if "stated" not in table:
        table["stated"] = Table(
            Container(), Trivia(indent="\n"), is_aot_element=False, is_super_table=False
        )
    # A figure that stays is left as it is written, be it "<5" or "less than 5 mg".
    before = {} if old is None else figures_data(old)
    changed = {k: v for k, v in figures_data(food).items() if k not in before or before[k] != v}
    write_values(table["stated"], StatedRecord, changed)
    _set_out(table, "measure")
    existing: Any = table.get("measure")
    tables = list(existing.body) if isinstance(existing, AoT) else []
    matched = paired([each.unwrap() for each in tables], food.measures, _measure_keys)
    measures = []
    for at, measure in zip(matched, food.measures, strict=True):
        place = _new_table() if at is None else tables[at]
        write_values(place, MeasureRecord, {key: getattr(measure, key) for key in _MEASURE_KEYS})
        measures.append(place)
    _put(table, "measure", measures)


def _measure_keys(measure: Any) -> tuple[object, object]:
    """Return by what a measure's table is found again: unit and qualifier, else the unit."""
    get = measure.get if isinstance(measure, dict) else partial(getattr, measure)
    return (get("unit", ""), get("qualifier", "")), get("unit", "")


def _put(place: Container | Table, key: str, tables: Sequence[Table]) -> None:
    existing = place.get(key)
    if isinstance(existing, AoT) and tables:
        existing.body[:] = tables
        return
    if existing is not None:
        del place[key]
    if tables:
        place[key] = AoT(list(tables))


def _set_out(place: Container | Table, key: str) -> None:
    """Give tables that are written within a row rows of their own."""
    if isinstance(place.get(key), Array | InlineTable):
        data = place[key].unwrap()
        del place[key]
        place[key] = tomlkit.item(data)


def _new_table() -> Table:
    return Table(Container(), Trivia(indent="\n"), is_aot_element=True)


def plain_layout(data: dict[str, Any], text: str) -> str:
    """Return TOML data in the plainest layout: its text's comments, then values, then tables."""
    comments = "".join(f"{comment}\n" for comment in all_comments(tomlkit.parse(text)))
    tables_last = sorted(data.items(), key=lambda pair: isinstance(pair[1], dict | list))
    return comments + tomlkit.dumps(dict(tables_last))

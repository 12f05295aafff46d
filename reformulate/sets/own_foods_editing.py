"""Writing own foods into the text of their file: only what has changed is written anew."""

from __future__ import annotations

from functools import partial
from typing import Any

import tomlkit
from msgspec.structs import fields
from tomlkit.items import Table

from reformulate.foods.own import OwnFood
from reformulate.sets.comments import take_comments
from reformulate.sets.matching import paired
from reformulate.sets.own_foods import (
    MeasureRecord,
    OwnFoodRecord,
    StatedRecord,
    figures_data,
)
from reformulate.sets.schema import FORMAT
from reformulate.sets.tables import new_table, put_tables, set_out, tables_of
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
    set_out(root, "food")
    by_key = {str(plain(table.get("key", ""))): table for table in tables_of(root, "food")}
    was = {food.key: food for food in old_foods}
    tables = []
    for food in foods:
        table = by_key.get(food.key)
        if table is None:
            table = new_table(in_array=True)
        if was.get(food.key) != food:
            _write_food(table, food, was.get(food.key))
        tables.append(table)
    put_tables(root, "food", tables)
    comments.put_back()
    return root.as_string() + comments.at_end


def _write_food(table: Table, food: OwnFood, old: OwnFood | None) -> None:
    own = {field.encode_name: plain(getattr(food, field.name)) for field in fields(OwnFoodRecord)}
    write_values(table, OwnFoodRecord, own)
    if "stated" not in table:
        table["stated"] = new_table(in_array=False)
    # A figure that stays is left as it is written, be it "<5" or "less than 5 mg".
    before = {} if old is None else figures_data(old)
    changed = {k: v for k, v in figures_data(food).items() if k not in before or before[k] != v}
    write_values(table["stated"], StatedRecord, changed)
    set_out(table, "measure")
    tables = tables_of(table, "measure")
    matched = paired([each.unwrap() for each in tables], food.measures, _measure_keys)
    measures = []
    for at, measure in zip(matched, food.measures, strict=True):
        place = new_table(in_array=True) if at is None else tables[at]
        write_values(place, MeasureRecord, {key: getattr(measure, key) for key in _MEASURE_KEYS})
        measures.append(place)
    put_tables(table, "measure", measures)


def _measure_keys(measure: Any) -> tuple[object, object]:
    """Return by what a measure's table is found again: unit and qualifier, else the unit."""
    get = measure.get if isinstance(measure, dict) else partial(getattr, measure)
    return (get("unit", ""), get("qualifier", "")), get("unit", "")

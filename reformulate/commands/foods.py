"""``reformulate foods``: import a release, search, show a food, add one of your own."""

from __future__ import annotations

import argparse
import json
import sys
from dataclasses import asdict
from pathlib import Path
from typing import Any

from reformulate.errors import BadInput
from reformulate.foods import QUANTITIES, FoodTable, food_table, quantities_of, search_foods
from reformulate.foods.store import FoodStore, Imported, import_release


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command and what it can do."""
    foods = commands.add_parser("foods", help="import a release, search, show, add your own")
    actions = foods.add_subparsers(dest="action", metavar="ACTION", required=True)
    bring = actions.add_parser(
        "import",
        help="bring a release you have downloaded into your own store of foods",
        description="Standard Reference (ASCII folder, zip or abbreviated file) and FoodData "
        "Central (CSV folder or zip, JSON). All of it comes in, or nothing.",
    )
    bring.add_argument("download", type=Path, metavar="DOWNLOAD")
    bring.add_argument("--name", default="", help="what the release is called")
    search = actions.add_parser("search", help="foods by name, your store included")
    search.add_argument("text", metavar="TEXT")
    search.add_argument("--count", type=int, default=20, metavar="N")
    show = actions.add_parser("show", help="what is known of a food")
    show.add_argument("key", metavar="KEY", help="as search shows it")
    for parser in (bring, search, show):
        parser.add_argument("--json", action="store_true", help="print JSON")
        parser.add_argument(
            "--store", type=Path, metavar="FILE", help="a store other than your usual one"
        )


def run(options: argparse.Namespace) -> int:
    """Do one of the actions."""
    if options.action == "import":
        return _import(options)
    if options.action == "search":
        return _search(options)
    return _show(options)


def _import(options: argparse.Namespace) -> int:
    def tell(fraction: float, words: str) -> None:
        if sys.stderr.isatty():
            print(f"\r{fraction:4.0%} {words:<60.60}", end="", file=sys.stderr, flush=True)

    found = import_release(options.download, options.store, release=options.name, progress=tell)
    if sys.stderr.isatty():
        print(file=sys.stderr)
    if not isinstance(found, Imported):
        return 1
    if options.json:
        print(json.dumps(asdict(found), indent=2))
        return 0
    for source in found.sources:
        print(f"{source.title}: {source.foods} foods")
    if found.replaced:
        print(f"{found.replaced} foods of earlier imports made way.")
    for skipped in found.skipped:
        print(f"left out: {skipped}")
    return 0


def _search(options: argparse.Namespace) -> int:
    hits = [
        {"key": food.key, "name": food.name, "group": food.group, "source": food.source}
        for food in search_foods(food_table(), options.text, options.count)
    ]
    with FoodStore.open(options.store) as store:
        hits += [asdict(hit) for hit in store.search(options.text, options.count)]
    if options.json:
        print(json.dumps(hits, indent=2))
    for hit in () if options.json else hits:
        print(f"{hit['key']:<36} {hit['name']}  ({hit['source']})")
    return 0 if hits else 1


def _show(options: argparse.Namespace) -> int:
    with FoodStore.open(options.store) as store:
        table = _table_with(options.key, store)
    food = table.food(options.key)
    values, known = quantities_of(table)
    row = table.index(options.key)
    figures: dict[str, Any] = {
        kind.key: float(values[row, i]) if known[row, i] else None
        for i, kind in enumerate(QUANTITIES)
    }
    if options.json:
        about = {"key": food.key, "name": food.name, "group": food.group, "source": food.source}
        measures = [asdict(measure) for measure in food.measures]
        print(
            json.dumps(
                {**about, "note": food.note, "per_100g": figures, "measures": measures}, indent=2
            )
        )
        return 0
    print(f"{food.name}  ({food.source})")
    if food.note:
        print(food.note)
    for kind in QUANTITIES:
        value = figures[kind.key]
        words = "not known" if value is None else f"{value:.{kind.decimals}f} {kind.unit}"
        print(f"  {kind.name:<22} {words}")
    for measure in food.measures:
        print(f"  1 {measure.unit} {measure.qualifier}: {measure.grams:g} g ({measure.source})")
    return 0


def _table_with(key: str, store: FoodStore) -> FoodTable:
    table = food_table()
    if key in table:
        return table
    try:
        return table.merged(store.table([key]))
    except BadInput:
        table.index(key)  # says which foods of the table are near
        raise

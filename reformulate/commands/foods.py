"""``reformulate foods``: import a release, search, show a food, add one of your own."""

from __future__ import annotations

import argparse
import json
import sys
from dataclasses import asdict
from pathlib import Path
from typing import Any

from reformulate.commands.loading import load
from reformulate.errors import BadInput, Problem
from reformulate.foods import QUANTITIES, FoodTable, food_table, quantities_of
from reformulate.foods.own import (
    Basis,
    OwnFood,
    Rounding,
    food_from_label,
    foods_from_csv,
    own_food_findings,
    own_key,
    range_words,
)
from reformulate.foods.store import FoodStore, Imported, import_release, search_everywhere
from reformulate.recipes.as_food import food_from_recipe
from reformulate.sets import read_own_foods, write_own_foods


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command and what it can do."""
    foods = commands.add_parser("foods", help="import a release, search, show, add your own")
    actions = foods.add_subparsers(dest="action", metavar="ACTION", required=True)
    bring = actions.add_parser(
        "import",
        help="bring a release you have downloaded into your own store of foods",
        description="Standard Reference (ASCII folder, zip or abbreviated file) and FoodData "
        "Central (CSV folder or zip, JSON). All of it comes in, or nothing; Ctrl+C gives it up.",
    )
    bring.add_argument("download", type=Path, metavar="DOWNLOAD")
    bring.add_argument("--name", default="", help="what the release is called")
    search = actions.add_parser(
        "search",
        help="foods by name, your store included",
        epilog="Exit code 0: found; 1: nothing is like that; 2: the store cannot be read.",
    )
    search.add_argument("text", metavar="TEXT")
    search.add_argument("--count", type=int, default=20, metavar="N")
    add = actions.add_parser(
        "add",
        help="add a food of your own to a set, from its label or a table",
        description="From a label: name, serving and figures as printed; their rounding is undone "
        "into ranges. From a table: a CSV file, one food a row, figures per 100 g. From a recipe: "
        "a dip that is used in another.",
    )
    add.add_argument("set", type=Path, metavar="SET", help="folder of the set")
    add.add_argument("--csv", type=Path, metavar="FILE", help="take every food of a table")
    add.add_argument("--name", default="")
    add.add_argument("--serving", default="", help="as printed: 2 tbsp (30 g)")
    add.add_argument("--per", choices=[basis.value for basis in Basis], default=Basis.SERVING.value)
    add.add_argument(
        "--rounding",
        choices=[rule.value for rule in Rounding],
        default=Rounding.US_LABEL.value,
        help="the rule the label is rounded by",
    )
    add.add_argument(
        "--figures",
        nargs="+",
        default=[],
        metavar="NUTRIENT=FIGURE",
        help="as printed: energy_kcal=60 fat_g=4.5 'sodium_mg=<5'",
    )
    add.add_argument(
        "--recipe", type=Path, metavar="RECIPE", help="take a dish of the set as a food"
    )
    add.add_argument("--json", action="store_true", help="print JSON")
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
    if options.action == "add":
        return _add(options)
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


def _add(options: argparse.Namespace) -> int:
    known = {food.key: food for food in read_own_foods(options.set)}
    if options.csv:
        read = foods_from_csv(options.csv, set(known))
        foods = read.foods
        for note in read.notes:
            print(note, file=sys.stderr)
    elif options.recipe:
        loaded = load(options.recipe, None)
        title = options.name or loaded.document.recipe.title
        foods = (
            food_from_recipe(
                loaded.batch,
                own_key(title, set(known)),
                title,
                recipe_file=options.recipe.name,
                recipes={options.recipe.name: loaded.document.recipe},
                own_foods=tuple(known.values()),
            ),
        )
    else:
        stated = dict(_figure(text) for text in options.figures)
        foods = (
            food_from_label(
                options.name,
                stated,
                serving=options.serving,
                per=Basis(options.per),
                rounding=Rounding(options.rounding),
                taken=set(known),
            ),
        )
    write_own_foods(options.set, foods)
    if options.json:
        print(json.dumps([_own_as_json(food) for food in foods], indent=2))
        return 0
    for food in foods:
        print(f"{food.key}  {food.name}")
        for figure in food.per_100g:
            print(f"  {figure.nutrient:<20} {range_words(figure)} per 100 g")
        for finding in own_food_findings(food):
            print(f"  look again: {finding}")
    return 0


def _own_as_json(food: OwnFood) -> dict[str, object]:
    return {
        "key": food.key,
        "name": food.name,
        "per_100g": {figure.nutrient: range_words(figure) for figure in food.per_100g},
        "look_again": [str(finding) for finding in own_food_findings(food)],
    }


def _figure(text: str) -> tuple[str, float | str]:
    nutrient, equals, figure = text.partition("=")
    if not equals:
        raise BadInput(Problem(text, "has no '='.", "Write NUTRIENT=FIGURE, e.g. fat_g=4.5."))
    try:
        return nutrient.strip(), float(figure)
    except ValueError:
        return nutrient.strip(), figure.strip()


def _search(options: argparse.Namespace) -> int:
    with FoodStore.open(options.store) as store:
        foods, imported = search_everywhere(food_table(), store, options.text, options.count)
    hits = [
        {"key": food.key, "name": food.name, "group": food.group, "source": food.source}
        for food in foods
    ]
    hits += [asdict(hit) for hit in imported]
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

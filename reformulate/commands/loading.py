"""What every command on a recipe reads first."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

from reformulate.errors import BadInput, Problem
from reformulate.foods import (
    FoodStore,
    FoodTable,
    default_store_path,
    food_table,
    price_problems,
    priced,
    read_release,
)
from reformulate.foods.own import own_table
from reformulate.measures import SYSTEMS, MeasureSystem
from reformulate.recipes import Batch, weigh_recipe
from reformulate.sets import (
    Document,
    measures_of,
    prices_of,
    read_document,
    read_own_foods,
    unread_keys,
    unread_own_food_keys,
)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Loaded:
    """A recipe file, weighed, and what it was weighed with."""

    document: Document
    batch: Batch
    foods: FoodTable
    system: MeasureSystem


def load(path: Path, release: Path | None) -> Loaded:
    """Read and weigh a recipe file.

    Raises
    ------
    BadInput
        With every problem found, each naming the file.
    """
    document = read_document(path)
    for problem in (*unread_keys(path), *unread_own_food_keys(path.parent)):
        print(problem, file=sys.stderr)
    foods = food_table()
    own = read_own_foods(path.parent)
    if own:
        foods = foods.merged(own_table(own))
    foods = foods.merged(_imported(document, foods))
    if release is not None:
        foods = foods.merged(read_release(release))
    system = SYSTEMS[measures_of(path)]
    prices = prices_of(path)
    for problem in price_problems(foods, prices, system):
        print(problem, file=sys.stderr)
    foods = priced(foods, prices, system)
    try:
        batch = weigh_recipe(document.recipe, foods, system)
    except BadInput as error:
        raise BadInput(in_file(path, problem) for problem in error.problems) from error
    return Loaded(document=document, batch=batch, foods=foods, system=system)


def _imported(document: Document, foods: FoodTable) -> FoodTable:
    """Return what the recipe needs of the foods the user has imported."""
    keys = {line.food for line in document.recipe.lines}
    keys |= {swap.food for swap in document.brief.swaps}
    missing = sorted(key for key in keys if key not in foods)
    if not missing or not default_store_path().exists():
        return foods
    with FoodStore.open() as store:
        return store.table(key for key in missing if key in store)


def in_file(path: Path, problem: Problem) -> Problem:
    """Return a problem that also names the file."""
    return Problem(f"{path.name}, {problem.where}", problem.what, problem.fix)

"""Own foods as a food table, to be merged with the program's."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from reformulate.errors import BadInput, Problem
from reformulate.foods.nutrients import INDEX, NUTRIENTS
from reformulate.foods.own.faults import own_food_problems
from reformulate.foods.own.food import OwnFood
from reformulate.foods.table import Food, FoodTable


def own_table(foods: Sequence[OwnFood]) -> FoodTable:
    """Return own foods as a table: ``food_table().merged(own_table(foods))`` has both.

    Parameters
    ----------
    foods
        n foods, each with a key of its own.

    Returns
    -------
    FoodTable
        Values (n, 30) [unit of each nutrient per 100 g]; what is not stated is unknown.

    Raises
    ------
    BadInput
        Two foods have one key, or a food has something that must be put right.
    """
    problems = list(own_foods_problems(foods))
    if problems:
        raise BadInput(problems)
    values = np.zeros((len(foods), len(NUTRIENTS)))
    known = np.zeros(values.shape, dtype=np.bool_)
    for row, food in enumerate(foods):
        for figure in food.per_100g:
            values[row, INDEX[figure.nutrient]] = figure.value
            known[row, INDEX[figure.nutrient]] = True
    return FoodTable(foods=tuple(_food(food) for food in foods), values=values, known=known)


def own_foods_problems(foods: Sequence[OwnFood]) -> Iterator[Problem]:
    """Yield what must be put right in each food, and the keys that more than one has."""
    first: dict[str, str] = {}
    for food in foods:
        where = f"food “{food.key[:40]}”"
        if food.key in first:
            what = f"“{first[food.key]}” and “{food.name}” have the same key."
            yield Problem(where, what, "Give one of them another.")
        first.setdefault(food.key, food.name)
        for problem in own_food_problems(food):
            yield Problem(f"{where}, {problem.where}", problem.what, problem.fix)


def _food(food: OwnFood) -> Food:
    return Food(
        key=food.key,
        name=food.name,
        group=food.group,
        words=food.words,
        source=food.source or "own food",
        measures=food.all_measures,
        note=food.note,
    )

"""A dish as a food: a dip that is used in another recipe."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from reformulate.errors import BadInput, Problem
from reformulate.foods.nutrients import NUTRIENTS
from reformulate.foods.own.faults import own_food_problems
from reformulate.foods.own.food import GROUP, Basis, OwnFood
from reformulate.foods.own.label_rounding import Rounding
from reformulate.foods.own.stated import Stated
from reformulate.recipes.batch import Batch
from reformulate.recipes.nutrition import nutrition_of
from reformulate.recipes.recipe import Recipe

_FIGURES = 6  # significant digits kept: a file that people read, and far finer than any food table


def food_from_recipe(
    batch: Batch,
    key: str,
    name: str,
    *,
    recipe_file: str = "",
    recipes: Mapping[str, Recipe] | None = None,
    own_foods: Sequence[OwnFood] = (),
    group: str = GROUP,
    words: Sequence[str] = (),
    note: str = "",
) -> OwnFood:
    r"""Return a dish as a food: what 100 g of it, finished, holds.

    .. math:: c_k = 100 \, \frac{\sum_j a_{jk} x_j}{\sum_j y_j x_j}

    with x the grams of each line, a what a gram of it brings and y the finished grams it becomes. A
    nutrient that any line's food does not know is unknown.

    Parameters
    ----------
    batch
        The recipe, weighed.
    key, name
        Those of the new food.
    recipe_file
        The recipe's file, which the food names as where it comes from; "" for none.
    recipes
        The set's recipes by file, to see whether the dish would contain itself.
    own_foods
        The set's own foods, for the same purpose.
    group, words, note
        As in `OwnFood`.

    Returns
    -------
    OwnFood
        Per 100 g, with a serving of the recipe as its measure.

    Raises
    ------
    BadInput
        The dish would contain itself (the message names the chain), has no finished mass, or the
        key or the name must be put right.
    """
    found = nutrition_of(batch)
    if found.finished_grams <= 0.0:
        fix = "Write the amounts of its lines."
        raise BadInput(Problem(f"recipe “{batch.recipe.title}”", "weighs nothing.", fix))
    serving = _rounded(found.finished_grams / found.servings)
    food = OwnFood(
        key=key,
        name=name,
        group=group,
        words=tuple(words),
        per=Basis.HUNDRED_GRAMS,
        rounding=Rounding.NONE,
        serving_grams=serving,
        stated=tuple(
            Stated(nutrient=kind.key, amount=_rounded(max(0.0, float(amount))))
            for kind, amount, unknown in zip(
                NUTRIENTS, found.per_100g, found.at_least, strict=False
            )
            if not unknown
        ),
        recipe=recipe_file,
        source=f"recipe “{batch.recipe.title}”, {found.finished_grams:.0f} g finished, "
        f"{found.servings:g} servings",
        note=note,
    )
    problems = list(own_food_problems(food))
    problems += chain_problems(
        {**(recipes or {}), recipe_file: batch.recipe},
        [*(own for own in own_foods if own.key != key), food],
        start=recipe_file,
    )
    if problems:
        raise BadInput(problems)
    return food


def chain_problems(
    recipes: Mapping[str, Recipe], own_foods: Sequence[OwnFood], *, start: str | None = None
) -> Iterator[Problem]:
    """Yield a problem for each dish that contains itself by way of own foods made from recipes.

    Parameters
    ----------
    recipes
        The set's recipes by file.
    own_foods
        The set's own foods; only those made from a recipe of ``recipes`` count.
    start
        The one recipe file to look from; None for all of them.
    """
    made_from = {own.key: own for own in own_foods if own.recipe in recipes}
    told: set[frozenset[str]] = set()
    for file in recipes if start is None else (start,):
        chain = _chain(file, recipes, made_from)
        if not chain or frozenset(chain) in told:
            continue
        told.add(frozenset(chain))
        yield Problem(
            f"recipe {_called(file, recipes)}",
            f"contains itself: {_told(file, chain, recipes, made_from)}.",
            "Take one of these foods out of its recipe, or use another.",
        )


def _chain(
    start: str, recipes: Mapping[str, Recipe], made_from: Mapping[str, OwnFood]
) -> tuple[str, ...]:
    """Return the keys of the own foods by which a recipe leads back to itself, the fewest; or none."""
    ways: dict[str, tuple[str, ...]] = {start: ()}
    files = [start]
    for file in files:  # Grows while it is gone through: each recipe is looked at once.
        for key in _own_in(recipes[file], made_from):
            way = (*ways[file], key)
            inner = made_from[key].recipe
            if inner == start:
                return way
            if inner not in ways:
                ways[inner] = way
                files.append(inner)
    return ()


def _own_in(recipe: Recipe, made_from: Mapping[str, OwnFood]) -> Iterator[str]:
    keys = dict.fromkeys(line.food for line in recipe.lines)
    return (key for key in keys if key in made_from)


def _told(
    start: str,
    chain: tuple[str, ...],
    recipes: Mapping[str, Recipe],
    made_from: Mapping[str, OwnFood],
) -> str:
    """Return a chain in words: A has “B”, made from B; B has “A”, made from A."""
    links: list[str] = []
    file = start
    for key in chain:
        food = made_from[key]
        links.append(
            f"{_called(file, recipes)} has “{food.name}”, made from {_called(food.recipe, recipes)}"
        )
        file = food.recipe
    return "; ".join(links)


def _called(file: str, recipes: Mapping[str, Recipe]) -> str:
    return f"“{recipes[file].title}”" + (f" ({file})" if file else "")


def _rounded(amount: float) -> float:
    return float(f"{amount:.{_FIGURES}g}")

"""A recipe weighed: every line in grams, and what one gram of each line brings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import isfinite

import numpy as np
from numpy.typing import NDArray

from reformulate.errors import BadInput, Problem
from reformulate.foods import (
    NUTRIENTS,
    QUANTITY_INDEX,
    Food,
    FoodTable,
    quantities_of,
    rederived,
    retention_factors,
)
from reformulate.measures import MeasureSystem, parse_amount, weigh
from reformulate.recipes.recipe import ROLES, Line, Recipe

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Ingredient:
    """A food as it enters a dish: what one gram, as listed, brings to the finished food."""

    food: Food
    per_gram: FloatArray
    """(39,) quantities brought by one gram as listed [unit per g], unknown as 0."""
    known: BoolArray
    """(39,) whether the food's figure is known."""
    yield_share: float
    """Finished grams one listed gram becomes [g/g]."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Batch:
    """A recipe whose lines are all weighed and looked up."""

    recipe: Recipe
    ingredients: tuple[Ingredient, ...]
    """One per line, in the recipe's order."""
    grams: FloatArray
    """(n,) mass of each line as listed [g]."""
    routes: tuple[str, ...]
    """How each mass was come by, in words."""


def ingredient(
    food_key: str,
    foods: FoodTable,
    *,
    moisture_loss_percent: float = 0.0,
    retention: int | None = None,
    as_bought: bool = False,
) -> Ingredient:
    r"""Work out what one listed gram of a food brings to the finished dish.

    .. math:: a_k = e \, c_k R_k / 100, \qquad y = e (1 - m/100), \qquad a_{water} = e (c/100 - m/100)

    with e the edible share, c the figure per 100 g, R the retention factor and m the moisture loss
    as a percentage of the total ingredient mass. Retention factors cover vitamins and minerals
    only; the loss of moisture is water.

    Raises
    ------
    BadInput
        If the food or the retention code is not known.

    Notes
    -----
    Method: USDA survey food recipe calculation (retention by ingredient, moisture change by
    recipe), the mixed-recipe method of FAO/INFOODS and EuroFIR.
    """
    row = foods.index(food_key)
    food = foods.foods[row]
    values, known = quantities_of(foods)
    edible = food.edible_share if as_bought else 1.0
    per_gram = values[row] * (edible / 100.0)
    if retention is not None:
        per_gram[: len(NUTRIENTS)] *= retention_factors(retention)
        per_gram = np.where(known[row], rederived(per_gram, edible), 0.0)
    for key in ("water_g", "moisture"):
        per_gram[QUANTITY_INDEX[key]] -= edible * moisture_loss_percent / 100.0
    return Ingredient(
        food=food,
        per_gram=per_gram,
        known=known[row],
        yield_share=edible * (1.0 - moisture_loss_percent / 100.0),
    )


def weigh_recipe(recipe: Recipe, foods: FoodTable, system: MeasureSystem) -> Batch:
    """Weigh every line of a recipe and look its food up.

    Returns
    -------
    Batch
        Grams (n,) [g] with the route each was come by, and one Ingredient a line.

    Raises
    ------
    BadInput
        With every problem of the recipe: unknown foods, amounts that cannot be read or weighed,
        servings or moisture out of range, no lines.
    """
    problems = list(recipe_problems(recipe))
    ingredients: list[Ingredient] = []
    grams: list[float] = []
    routes: list[str] = []
    for number, line in enumerate(recipe.lines, start=1):
        try:
            item = ingredient(
                line.food,
                foods,
                moisture_loss_percent=recipe.moisture_loss_percent,
                retention=line.retention,
                as_bought=line.as_bought,
            )
            mass, route = _mass(line, item.food, system)
        except BadInput as error:
            problems += [
                Problem(f"line {number} ({line.id})", f"{p.where}: {p.what}", p.fix)
                for p in error.problems
            ]
            continue
        ingredients.append(item)
        grams.append(mass)
        routes.append(route)
    if not problems:
        problems += _dried_out(recipe, ingredients, np.array(grams))
    if problems:
        raise BadInput(problems)
    return Batch(
        recipe=recipe,
        ingredients=tuple(ingredients),
        grams=np.array(grams),
        routes=tuple(routes),
    )


def _dried_out(
    recipe: Recipe, ingredients: list[Ingredient], grams: FloatArray
) -> Iterator[Problem]:
    """Yield a problem where cooking drives off more water than there is, as far as it is known."""
    column = QUANTITY_INDEX["water_g"]
    if not all(item.known[column] for item in ingredients):
        return
    left = float(sum(g * item.per_gram[column] for g, item in zip(grams, ingredients, strict=True)))
    if left >= 0.0 or recipe.moisture_loss_percent <= 0.0:
        return
    share = recipe.moisture_loss_percent / 100.0
    lost = share * sum(
        g * item.yield_share / (1.0 - share) for g, item in zip(grams, ingredients, strict=True)
    )
    yield Problem(
        "moisture_loss_percent",
        f"{recipe.moisture_loss_percent:g} % drives off {lost:.0f} g of water, "
        f"and the lines hold {lost + left:.0f} g.",
        "Weigh the finished batch and write what it lost.",
    )


def _mass(line: Line, food: Food, system: MeasureSystem) -> tuple[float, str]:
    if line.grams is not None:
        return float(line.grams), f"{line.grams:g} g as written"
    weighed = weigh(parse_amount(line.amount), food.measures, system, line.prep)
    return weighed.grams, weighed.route


def recipe_problems(recipe: Recipe) -> Iterator[Problem]:
    """Yield what must be put right in a recipe before it can be weighed."""
    if not isfinite(recipe.servings) or recipe.servings <= 0:
        yield Problem(
            "servings",
            f"found {recipe.servings:g}, expected a number above 0.",
            "Write how many the batch serves.",
        )
    loss = recipe.moisture_loss_percent
    if not isfinite(loss) or not -300 <= loss < 95:
        yield Problem(
            "moisture_loss_percent",
            f"found {loss:g}, expected -300 or more and less than 95.",
            "Write the mass lost in cooking as a percentage of all the ingredients.",
        )
    if not recipe.lines:
        yield Problem("line", "the recipe has no lines.", "Add at least one [[line]].")
    seen: set[str] = set()
    for number, line in enumerate(recipe.lines, start=1):
        where = f"line {number} ({line.id})"
        if line.id in seen:
            yield Problem(where, f"a second line has the id '{line.id}'.", "Give it another id.")
        seen.add(line.id)
        if line.role not in ROLES:
            yield Problem(
                f"{where}, role", f"found '{line.role}'.", f"Expected one of: {', '.join(ROLES)}."
            )
        if bool(line.amount) == (line.grams is not None):
            yield Problem(
                where, "expected exactly one of amount and grams.", "Write one of the two."
            )
        if line.grams is not None and not (isfinite(line.grams) and 0 < line.grams <= 1e6):
            yield Problem(
                f"{where}, grams",
                f"found {line.grams:g}, expected more than 0 and at most 1000000.",
                "Write the mass in grams.",
            )


def unknown_foods(ingredients: tuple[Ingredient, ...], key: str) -> tuple[str, ...]:
    """Return the names of the foods whose figure for a nutrient is not known."""
    column = QUANTITY_INDEX[key]
    names = (item.food.name for item in ingredients if not item.known[column])
    return tuple(dict.fromkeys(names))

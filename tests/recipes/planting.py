"""Recipes with one fault planted, and what all plants ask of a recipe."""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from reformulate import SYSTEMS, Batch, Line, Recipe, nutrition_of, weigh_recipe
from reformulate.foods.nutrients import INDEX
from reformulate.recipes.review import Kind
from tests.recipes.test_review_clean import FOODS

US = SYSTEMS["us"]
ANYWHERE = "*"


@dataclass(frozen=True)
class Planted:
    """A recipe with one fault, and where it is to be found."""

    recipe: Recipe
    kinds: tuple[Kind, ...]
    where: str = ANYWHERE
    texts: Mapping[str, str] = field(default_factory=dict)
    claims: Mapping[str, float] = field(default_factory=dict)


Plant = Callable[[Recipe, random.Random], Planted | None]


def weighed(recipe: Recipe) -> Batch:
    return weigh_recipe(recipe, FOODS, US)


def grams_of(recipe: Recipe) -> dict[str, float]:
    return {line.id: float(g) for line, g in zip(recipe.lines, weighed(recipe).grams, strict=True)}


def spoken(line: Line) -> str:
    return FOODS.food(line.food).name.partition(",")[0].lower()


def by_volume(recipe: Recipe, least: float = 10.0) -> list[Line]:
    grams = grams_of(recipe)
    return [
        line
        for line in recipe.lines
        if re.search(r"\b(cups?|tbsp)\b", line.amount) and grams[line.id] >= least
    ]


def with_figure(line: Line, grams: float) -> str:
    prep = f", {line.prep}" if line.prep else ""
    return f"{line.amount} ({grams:.0f} g) {spoken(line)}{prep}"


def true_claims(recipe: Recipe) -> dict[str, float]:
    found = nutrition_of(weighed(recipe)).per_serving
    keys = ("energy_kcal", "protein_g", "carbohydrate_g", "fat_g", "saturated_g", "sodium_mg")
    return {key: round(float(found[INDEX[key]]), 1) for key in keys}

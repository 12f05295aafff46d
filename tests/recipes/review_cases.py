"""Two demo recipes that reviews are tried on, and how to write something else into them."""

from __future__ import annotations

from dataclasses import replace

from reformulate import Recipe
from reformulate.recipes.review import Finding, Kind
from tests.recipes.planting import Planted
from tests.recipes.test_review_clean import DEMO

BEANS = next(recipe for recipe in DEMO if recipe.title.startswith("White bean"))
CRAB = next(recipe for recipe in DEMO if recipe.title.startswith("Baked crab"))


def of(kind: Kind, found: tuple[Finding, ...]) -> list[Finding]:
    return [finding for finding in found if finding.kind is kind]


def with_text(recipe: Recipe, line_id: str, text: str) -> Recipe:
    return recipe.with_line(replace(recipe.line(line_id), text=text))


def in_the_recipe(planted: Planted) -> Recipe:
    """Carry the texts and claims of a plant in the recipe itself, as one that was taken in does."""
    recipe = planted.recipe
    for line_id, text in planted.texts.items():
        if any(line.id == line_id for line in recipe.lines):
            recipe = with_text(recipe, line_id, text)
    return replace(recipe, claims=tuple(planted.claims.items()))

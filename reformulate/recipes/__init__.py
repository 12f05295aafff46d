"""Recipe values, and the nutrients in a recipe."""

from reformulate.recipes.batch import Batch, Ingredient, ingredient, unknown_foods, weigh_recipe
from reformulate.recipes.nutrition import Nutrition, nutrition, nutrition_of
from reformulate.recipes.recipe import ROLES, Line, Recipe

__all__ = [
    "ROLES",
    "Batch",
    "Ingredient",
    "Line",
    "Nutrition",
    "Recipe",
    "ingredient",
    "nutrition",
    "nutrition_of",
    "unknown_foods",
    "weigh_recipe",
]

"""Recipe values, and the nutrients in a recipe."""

from reformulate.recipes.as_food import chain_problems, food_from_recipe
from reformulate.recipes.batch import Batch, Ingredient, ingredient, unknown_foods, weigh_recipe
from reformulate.recipes.nutrition import Nutrition, nutrition, nutrition_of
from reformulate.recipes.recipe import ROLES, Line, Recipe
from reformulate.recipes.review import Finding, Fix, review

__all__ = [
    "ROLES",
    "Batch",
    "Finding",
    "Fix",
    "Ingredient",
    "Line",
    "Nutrition",
    "Recipe",
    "chain_problems",
    "food_from_recipe",
    "ingredient",
    "nutrition",
    "nutrition_of",
    "review",
    "unknown_foods",
    "weigh_recipe",
]

"""Foods: composition per 100 g, household measures, cooking losses, search."""

from __future__ import annotations

from reformulate.foods.nutrients import INDEX, NUTRIENTS, Nutrient, nutrient
from reformulate.foods.release import read_release
from reformulate.foods.retention import retention_codes, retention_factors, retention_words
from reformulate.foods.search import search_foods
from reformulate.foods.table import Food, FoodTable, food_table

__all__ = [
    "INDEX",
    "NUTRIENTS",
    "Food",
    "FoodTable",
    "Nutrient",
    "food_table",
    "nutrient",
    "read_release",
    "retention_codes",
    "retention_factors",
    "retention_words",
    "search_foods",
]

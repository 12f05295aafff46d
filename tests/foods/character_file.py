"""The rows of the predictors of taste and texture, and one figure of them at a time."""

from __future__ import annotations

from reformulate.foods import INDEX, food_table
from reformulate.foods.character import STATED, stated_character
from tests.foods.food_files import Row, rows_of

ROWS = rows_of("character.csv")

# Grams per mole of hydrogen ions: molar mass over the acid's carboxyl groups.
EQUIVALENT = {
    "citric": 192.12 / 3,
    "lactic": 90.08,
    "acetic": 60.05,
    "malic": 134.09 / 2,
    "tartaric": 150.09 / 2,
}
SHU_OF_FRESH_GARLIC = 2500  # our own choice


def rows_about(property_: str) -> list[Row]:
    return [row for row in ROWS if row["property"] == property_]


def stated(food: str, property_: str) -> float:
    """One stated figure [unit of the property per 100 g]."""
    figures = stated_character([food_table().food(food)])
    return float(figures.values[0, STATED.index(property_)])


def composition(food: str, nutrient: str) -> float:
    table = food_table()
    return float(table.values[table.index(food), INDEX[nutrient]])

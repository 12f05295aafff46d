"""Foods: composition per 100 g, household measures, cooking losses, search."""

from __future__ import annotations

from reformulate.foods.character import CHARACTER, MEANING, source_of, stated_character
from reformulate.foods.nutrients import INDEX, NUTRIENTS, Nutrient, nutrient
from reformulate.foods.own import (
    STATABLE,
    Basis,
    OwnFood,
    Rounding,
    food_from_label,
    own_food_findings,
    own_key,
    own_table,
    range_words,
)
from reformulate.foods.prices import Price, price_problems, priced
from reformulate.foods.quantities import (
    COST,
    QUANTITIES,
    QUANTITY_INDEX,
    quantities_of,
    quantity_named,
    rederived,
)
from reformulate.foods.release import read_release
from reformulate.foods.retention import retention_codes, retention_factors, retention_words
from reformulate.foods.search import search_foods
from reformulate.foods.store import (
    FoodStore,
    Imported,
    all_foods,
    default_store_path,
    import_release,
    search_everywhere,
)
from reformulate.foods.table import Food, FoodTable, food_table

__all__ = [
    "CHARACTER",
    "COST",
    "INDEX",
    "MEANING",
    "NUTRIENTS",
    "QUANTITIES",
    "QUANTITY_INDEX",
    "STATABLE",
    "Basis",
    "Food",
    "FoodStore",
    "FoodTable",
    "Imported",
    "Nutrient",
    "OwnFood",
    "Price",
    "Rounding",
    "all_foods",
    "default_store_path",
    "food_from_label",
    "food_table",
    "import_release",
    "nutrient",
    "own_food_findings",
    "own_key",
    "own_table",
    "price_problems",
    "priced",
    "quantities_of",
    "quantity_named",
    "range_words",
    "read_release",
    "rederived",
    "retention_codes",
    "retention_factors",
    "retention_words",
    "search_everywhere",
    "search_foods",
    "source_of",
    "stated_character",
]

"""Foods of the user's own: from package labels, from recipes, from tables."""

from __future__ import annotations

from reformulate.foods.own.bands import Printed, Range, permitted, undone
from reformulate.foods.own.daily_values import DAILY_VALUES
from reformulate.foods.own.faults import own_food_problems
from reformulate.foods.own.figures import Figure, range_words
from reformulate.foods.own.findings import own_food_findings
from reformulate.foods.own.food import Basis, OwnFood
from reformulate.foods.own.from_csv import TableRead, foods_from_csv, foods_from_csv_bytes
from reformulate.foods.own.keys import own_key
from reformulate.foods.own.label import food_from_label
from reformulate.foods.own.label_rounding import Rounding, bands_of
from reformulate.foods.own.serving import Serving, read_serving
from reformulate.foods.own.stated import STATABLE, Stated, read_stated
from reformulate.foods.own.table import own_table

__all__ = [
    "DAILY_VALUES",
    "STATABLE",
    "Basis",
    "Figure",
    "OwnFood",
    "Printed",
    "Range",
    "Rounding",
    "Serving",
    "Stated",
    "TableRead",
    "bands_of",
    "food_from_label",
    "foods_from_csv",
    "foods_from_csv_bytes",
    "own_food_findings",
    "own_food_problems",
    "own_key",
    "own_table",
    "permitted",
    "range_words",
    "read_serving",
    "read_stated",
    "undone",
]

"""The figures of the food table, against their release and against themselves."""

from __future__ import annotations

import re
from collections import Counter

import numpy as np
import pytest

from reformulate.foods import INDEX, NUTRIENTS, FoodTable, food_table
from tests.foods.food_files import release_28, rows_of
from tests.foods.refresh_table import refreshed

# Foods whose mass is not water, protein, fat, carbohydrate and ash alone, and what it is as well.
OTHER_MASS = {
    "alcohol": {"beer", "beer-light", "wine-white", "wine-red", "wine-dessert-dry", "spirits"}
    | {"vanilla-extract"},
    "acetic acid": {"vinegar-cider", "vinegar-distilled", "vinegar-red-wine", "vinegar-balsamic"},
    "carbon dioxide given off on ashing": {"baking-soda"},
    "analyses of different samples": {"pepper-black", "pepper-white"},
}
SWEETENERS = {
    *("sugar", "sugar-brown", "sugar-powdered", "sugar-turbinado", "honey", "maple-syrup"),
    *("agave-syrup", "corn-syrup", "molasses", "fructose"),
}
# Capitals of everyday names; anything else with a capital might be a brand.
PROPER = {
    *("American", "Italian", "French", "Mexican", "Swiss", "Brussels", "Dijon", "Greek"),
    *(
        "Florida",
        "California",
        "Canadian",
        "Spanish",
        "Belgian",
        "Caesar",
        "Magerquark",
        "BBQ",
        "Atlantic",
    ),
}


@pytest.fixture(scope="module")
def table() -> FoodTable:
    return food_table()


def column(table: FoodTable, key: str) -> np.ndarray:
    return table.values[:, INDEX[key]]


def mass_accounted_for(table: FoodTable) -> np.ndarray:
    """Water, protein, fat and carbohydrate [g per 100 g] of each food."""
    parts = [INDEX[key] for key in ("water_g", "protein_g", "fat_g", "carbohydrate_g")]
    total: np.ndarray = table.values[:, parts].sum(axis=1)
    return total


def test_there_are_foods_enough_for_dips_spreads_and_sauces(table: FoodTable) -> None:
    assert len(table) >= 350


def test_every_figure_is_that_of_its_release_row() -> None:
    assert refreshed(rows_of("table.csv"), release_28()) == rows_of("table.csv")


def test_figures_carry_over_into_the_matrix_and_blanks_stay_unknown(table: FoodTable) -> None:
    for row, text in enumerate(rows_of("table.csv")):
        for column_, nutrient in enumerate(NUTRIENTS):
            figure = text[nutrient.key]
            assert table.known[row, column_] == (figure != "")
            assert table.values[row, column_] == (float(figure) if figure else 0.0)


@pytest.mark.parametrize(
    ("key", "nutrient", "figure"),
    [
        # Release 28 as printed, one figure from each column that is easily confused with another.
        ("onion-yellow", "water_g", 89.11),
        ("onion-yellow", "fibre_g", 1.7),
        ("milk-whole", "vitamin_d_ug", 1.3),  # not 51 IU
        ("carrot", "vitamin_a_ug", 835),  # not 16706 IU
        ("flour", "folate_ug", 291),  # dietary folate equivalents, not 183 total
        ("oil-olive", "monounsaturated_g", 72.961),
        ("oil-olive", "saturated_g", 13.808),
        ("salt-table", "sodium_mg", 38758),
        ("egg-whole", "cholesterol_mg", 372),
        ("parsley", "vitamin_k_ug", 1640),
        ("almonds", "vitamin_e_mg", 25.63),
    ],
)
def test_known_figures_stand_in_the_right_column(
    table: FoodTable, key: str, nutrient: str, figure: float
) -> None:
    assert table.values[table.index(key), INDEX[nutrient]] == figure


def test_foods_without_a_release_row_say_so_and_are_few() -> None:
    others = [row for row in rows_of("table.csv") if not row["ndb"]]
    assert len(others) <= 8
    assert {row["release"] for row in others} <= {"from memory", "common practice", "published"}
    assert all(row["note"] for row in others)


def test_parts_never_outweigh_the_whole(table: FoodTable) -> None:
    total = mass_accounted_for(table)
    assert [food.key for food, mass in zip(table, total, strict=True) if mass > 100.5] == []


def test_water_protein_fat_carbohydrate_and_ash_make_a_hundred_grams(table: FoodTable) -> None:
    total = mass_accounted_for(table)
    odd = set()
    for food, mass in zip(table, total, strict=True):
        if food.ndb and abs(mass + float(release_28()[food.ndb]["Ash_(g)"] or 0) - 100) > 3:
            odd.add(food.key)
    assert odd == set().union(*OTHER_MASS.values())


@pytest.mark.parametrize(
    ("part", "whole", "rounding"),
    [
        ("fibre_g", "carbohydrate_g", 0.0),
        ("saturated_g", "fat_g", 0.0),
        ("added_sugars_g", "sugars_g", 0.0),
        # Two release rows (light cream, an island dressing) carry sugars from a later analysis.
        ("sugars_g", "carbohydrate_g", 0.9),
    ],
)
def test_a_part_is_no_more_than_its_whole(
    table: FoodTable, part: str, whole: str, rounding: float
) -> None:
    both = table.known[:, INDEX[part]] & table.known[:, INDEX[whole]]
    assert both.sum() > 300
    over = both & (column(table, part) > column(table, whole) + rounding)
    assert [table.foods[row].key for row in np.flatnonzero(over)] == []


def test_energy_agrees_with_the_general_factors_but_for_fibre_acids_and_alcohol(
    table: FoodTable,
) -> None:
    fibre = column(table, "fibre_g")
    by_factors = (
        4 * column(table, "protein_g")
        + 9 * column(table, "fat_g")
        + 4 * column(table, "carbohydrate_g")
    )
    energy = column(table, "energy_kcal")
    # Fibre counts anything from nothing to four kilocalories per gram.
    gap = np.maximum(np.maximum(energy - by_factors, by_factors - 4 * fibre - energy), 0)
    sour = {"Vinegars", "Drinks and liquids", "Fruit", "Herbs and spices", "Salt and leavening"}
    odd = {
        food.key
        for food, off, kcal in zip(table, gap, energy, strict=True)
        if food.group not in sour and off > max(0.16 * kcal, 14)
    }
    assert odd == {"oat-bran"}  # a factor of its own


def test_added_sugars_are_all_the_sugars_of_a_sweetener(table: FoodTable) -> None:
    for key in SWEETENERS:
        row = table.index(key)
        added, sugars = INDEX["added_sugars_g"], INDEX["sugars_g"]
        assert table.known[row, added]
        assert table.values[row, added] == table.values[row, sugars] > 0


def test_added_sugars_of_other_foods_are_none_or_unknown(table: FoodTable) -> None:
    added, sugars = INDEX["added_sugars_g"], INDEX["sugars_g"]
    for row, food in enumerate(table):
        if food.key in SWEETENERS:
            continue
        assert table.values[row, added] == 0, food.key
        if table.known[row, sugars] and table.values[row, sugars] == 0:
            assert table.known[row, added], food.key  # none at all, so none added
    for key in ("mayonnaise", "ketchup", "peanut-butter", "bread-white", "cranberries-dried"):
        assert not table.known[table.index(key), added]
    for key in ("cream-cheese", "yogurt-strained-nonfat", "onion-yellow", "chickpeas-canned"):
        assert table.known[table.index(key), added]


def test_names_keys_and_notes_are_ours_and_distinct() -> None:
    for what in ("key", "name"):
        twice = [
            text for text, n in Counter(row[what] for row in rows_of("table.csv")).items() if n > 1
        ]
        assert twice == []
    for row in rows_of("table.csv"):
        assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", row["key"])
        assert row["name"][0].isupper()
        later = re.findall(r"\b[A-Z][\w’']*", f"{row['name'][1:]}; {row['words']}")
        assert set(later) <= PROPER, row["key"]


def test_a_release_number_stands_for_one_food_but_for_named_twins() -> None:
    counts = Counter(row["ndb"] for row in rows_of("table.csv") if row["ndb"])
    twins = {ndb for ndb, count in counts.items() if count > 1}
    assert twins == {"02047", "14411"}  # table and kosher salt; water and ice


def test_edible_shares_are_fractions(table: FoodTable) -> None:
    assert all(0 < food.edible_share <= 1 for food in table)
    assert table.food("garlic").edible_share == pytest.approx(0.87)

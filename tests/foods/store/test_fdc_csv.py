"""Importing FoodData Central as comma-separated files."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from reformulate.foods.store import FoodStore
from tests.foods.store.releases import (
    AMOUNT,
    FOOD,
    LABEL,
    NUTRIENT,
    PORTION,
    amount,
    csv_folder,
    figure,
    food,
    imported,
    names,
    refused,
    shared_file,
    table,
    written,
    zipped,
)


@pytest.fixture
def store(tmp_path: Path) -> Path:
    return tmp_path / "foods.sqlite"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "FoodData_Central_csv_2024-10-31"


def measures(store: Path, key: str) -> list[tuple[str, str, float]]:
    with FoodStore.open(store) as opened:
        (found,) = opened.table([key])
    return [(m.unit, m.qualifier, m.grams) for m in found.measures]


def test_all_four_kinds_of_foods_come_in_and_samples_stay_out(folder: Path, store: Path) -> None:
    kinds = ("foundation_food", "sr_legacy_food", "survey_fndds_food", "branded_food")
    foods = [food(i, f"Dip {i}", kind) for i, kind in enumerate(kinds, 1)]
    foods += [food(9, "A sample", "sub_sample_food")]
    amounts = [amount(i, 1008, 100 + i) for i in (1, 2, 3, 4, 9)]
    done = imported(csv_folder(folder, foods, amounts), store)
    assert [source.title for source in done.sources] == [
        "Foundation, 2024-10-31",
        "SR Legacy, 2024-10-31",
        "Survey (FNDDS), 2024-10-31",
        "Branded, 2024-10-31",
    ]
    assert names(store) == ["Dip 1", "Dip 2", "Dip 3", "Dip 4"]
    with FoodStore.open(store) as opened:
        assert [f.source for f in opened.table(["fdc:1", "fdc:4"])] == [
            "FDC 1, Foundation, 2024-10-31",
            "FDC 4, Branded, 2024-10-31",
        ]
    told = {each.what: each.count for each in done.skipped}
    assert told == {
        "Of kind “sub_sample_food”, which is no food to cook with.": 1,
        "Figures of records that are no foods to cook with.": 1,
    }


def test_rows_may_come_in_any_order_with_columns_in_any_order(folder: Path, store: Path) -> None:
    amounts = [amount(1, 1008, 100), amount(2, 1003, 3), amount(1, 1003, 5), amount(2, 1008, 50)]
    csv_folder(folder, [food(2, "Two"), food(1, "One")], amounts)
    written(folder, "food_nutrient.csv", table(AMOUNT[::-1], amounts))
    written(folder, "food.csv", table(FOOD[::-1], [food(2, "Two"), food(1, "One")]))
    imported(folder, store)
    assert figure(store, "fdc:1", "energy_kcal") == 100
    assert figure(store, "fdc:1", "protein_g") == 5
    assert figure(store, "fdc:2", "energy_kcal") == 50
    assert figure(store, "fdc:2", "protein_g") == 3


def test_a_blank_amount_is_unknown_and_a_nought_is_nothing(folder: Path, store: Path) -> None:
    amounts = [amount(1, 1008, 10), amount(1, 1093, ""), amount(1, 1253, 0)]
    imported(csv_folder(folder, [food(1)], amounts), store)
    assert figure(store, "fdc:1", "sodium_mg") is None
    assert figure(store, "fdc:1", "cholesterol_mg") == 0


def test_nutrients_may_be_named_by_number_as_the_survey_foods_do(folder: Path, store: Path) -> None:
    amounts = [amount(1, 208, 100), amount(1, "269", 3), amount(1, "269.3", 4), amount(1, 307, 9)]
    nutrients = [
        {"id": 1008, "name": "Energy", "unit_name": "KCAL", "nutrient_nbr": "208"},
        {"id": 1093, "name": "Sodium", "unit_name": "G", "nutrient_nbr": "307"},
    ]
    csv_folder(
        folder, [food(1, kind="survey_fndds_food")], amounts, nutrient=table(NUTRIENT, nutrients)
    )
    imported(folder, store)
    assert figure(store, "fdc:1", "energy_kcal") == 100
    assert figure(store, "fdc:1", "sugars_g") == 3
    assert figure(store, "fdc:1", "sodium_mg") == 9000


def test_a_unit_that_cannot_be_turned_into_ours_is_left_out_and_told(
    folder: Path, store: Path
) -> None:
    nutrients = [{"id": 1093, "name": "Sodium", "unit_name": "IU", "nutrient_nbr": "307"}]
    amounts = [amount(1, 1008, 10), amount(1, 1093, 5)]
    done = imported(
        csv_folder(folder, [food(1)], amounts, nutrient=table(NUTRIENT, nutrients)), store
    )
    assert figure(store, "fdc:1", "sodium_mg") is None
    assert [(each.what, each.places) for each in done.skipped] == [
        ("The unit of the nutrient cannot be turned into ours.", ("nutrient.csv, line 2",))
    ]


def test_portions_become_measures_in_each_of_the_three_wordings(folder: Path, store: Path) -> None:
    portions = [
        {
            "fdc_id": 1,
            "amount": "1.0",
            "measure_unit_id": 1000,
            "modifier": "mashed",
            "gram_weight": 225,
        },
        {
            "fdc_id": 1,
            "amount": "2",
            "measure_unit_id": 9999,
            "modifier": "tbsp",
            "gram_weight": 30,
        },
        {
            "fdc_id": 1,
            "measure_unit_id": 9999,
            "modifier": "10205",
            "portion_description": "1 slice",
            "gram_weight": 12,
        },
        {"fdc_id": 1, "amount": "1", "measure_unit_id": 1234, "gram_weight": 10},
        {"fdc_id": 1, "amount": "1", "measure_unit_id": 1000, "gram_weight": "heavy"},
        {"fdc_id": 77, "amount": "1", "measure_unit_id": 1000, "gram_weight": 10},
    ]
    units = [{"id": 1000, "name": "cup"}, {"id": 9999, "name": "undetermined"}]
    csv_folder(
        folder,
        [food(1)],
        [amount(1, 1008, 10)],
        food_portion=table(PORTION, portions),
        measure_unit=table(("id", "name"), units),
    )
    done = imported(folder, store)
    assert measures(store, "fdc:1") == [
        ("cup", "mashed", 225.0),
        ("tbsp", "", 15.0),
        ("slice", "", 12.0),
    ]
    assert {each.what: each.places for each in done.skipped} == {
        "The unit of the portion is not in measure_unit.csv.": ("food_portion.csv, line 5",),
        "gram_weight is no number.": ("food_portion.csv, line 6",),
    }


def test_a_label_gives_maker_group_and_serving(folder: Path, store: Path) -> None:
    labels = [
        {
            "fdc_id": 1,
            "brand_owner": "Invented Foods",
            "brand_name": "Invented",
            "serving_size": "30.0",
            "serving_size_unit": "g",
            "household_serving_fulltext": "2 Tbsp (30 g)",
            "branded_food_category": "Dips & Salsa",
        },
        {"fdc_id": 2, "brand_owner": "Invented", "serving_size": "15", "serving_size_unit": "ml"},
        {"fdc_id": 3, "serving_size": "28", "serving_size_unit": "GRM"},
    ]
    foods = [food(i, "RANCH DIP", "branded_food") for i in (1, 2, 3)]
    amounts = [amount(i, 1008, 400) for i in (1, 2, 3)]
    imported(csv_folder(folder, foods, amounts, branded_food=table(LABEL, labels)), store)
    with FoodStore.open(store) as opened:
        first, second, third = opened.table(["fdc:1", "fdc:2", "fdc:3"])
        assert [hit.key for hit in opened.search("invented ranch")] == ["fdc:1", "fdc:2"]
    assert (first.name, first.group) == ("Ranch dip (Invented)", "Dips & Salsa")
    assert measures(store, "fdc:1") == [("tbsp", "", 15.0)]
    assert "100 ml" in second.note
    assert second.measures == ()
    assert (third.name, third.group) == ("Ranch dip", "Branded")
    assert measures(store, "fdc:3") == [("piece", "serving", 28.0)]


def test_categories_are_looked_up_and_numbers_of_the_standard_reference_kept(
    folder: Path, store: Path
) -> None:
    foods = [
        food(1, "Butter-like") | {"food_category_id": 1},
        food(2, "Of the survey", "survey_fndds_food") | {"food_category_id": 1002},
        food(3, "Newer", "foundation_food"),
    ]
    csv_folder(
        folder,
        foods,
        [amount(i, 1008, 1) for i in (1, 2, 3)],
        food_category=table(("id", "code", "description"), [{"id": 1, "description": "Dairy"}]),
        wweia_food_category=table(
            ("wweia_food_category", "wweia_food_category_description"),
            [{"wweia_food_category": 1002, "wweia_food_category_description": "Milk"}],
        ),
        sr_legacy_food=table(("fdc_id", "NDB_number"), [{"fdc_id": 1, "NDB_number": "1001"}]),
        foundation_food=table(("fdc_id", "NDB_number"), [{"fdc_id": 3, "NDB_number": "100288"}]),
    )
    imported(folder, store)
    with FoodStore.open(store) as opened:
        found = opened.table(["fdc:1", "fdc:2", "fdc:3"])
        assert [f.group for f in found] == ["Dairy", "Milk", "Foundation"]
        assert [f.ndb for f in found] == ["01001", None, None]
        # A recipe that names the old number gets the food that carries it on.
        carried = opened.table(["ndb:1001"])
    assert carried.food("ndb:01001").key == "fdc:1"


def test_figures_that_nothing_can_hold_are_unknown_and_told(folder: Path, store: Path) -> None:
    amounts = [amount(1, 1008, 100), amount(1, 1004, 1234), amount(1, 1003, 5)]
    done = imported(csv_folder(folder, [food(1)], amounts), store)
    assert figure(store, "fdc:1", "fat_g") is None
    assert figure(store, "fdc:1", "protein_g") == 5
    assert [each.what for each in done.skipped] == [
        "More fat than 100 g can hold: taken as unknown."
    ]


def test_broken_rows_are_left_out_and_told_with_their_line(folder: Path, store: Path) -> None:
    foods = [food(1), food(1, "Twice"), {**food(2), "fdc_id": "2x"}, food(3, "  "), food(4)]
    amounts = [
        amount(1, 1008, 100),
        amount(1, 1003, "five"),
        amount(1, 1004, -3),
        amount(1, 1005, "1_0"),
        amount(1, 1093, "nan"),
    ]
    done = imported(csv_folder(folder, foods, amounts), store)
    assert names(store) == ["Dip, plain"]
    for unknown in ("protein_g", "fat_g", "carbohydrate_g", "sodium_mg"):
        assert figure(store, "fdc:1", unknown) is None
    assert {each.what: (each.count, each.places) for each in done.skipped} == {
        "fdc_id or amount cannot be read.": (
            4,
            tuple(f"food_nutrient.csv, line {line}" for line in (3, 4, 5)),
        ),
        "fdc_id stands there twice.": (1, ("food.csv, line 3",)),
        "fdc_id is not up to eight digits.": (1, ("food.csv, line 4",)),
        "It has no name.": (1, ("FDC 3",)),
        "There are no figures for it.": (1, ("FDC 4",)),
    }


def test_the_first_of_two_amounts_of_one_nutrient_counts(folder: Path, store: Path) -> None:
    imported(csv_folder(folder, [food(1)], [amount(1, 1008, 5), amount(1, 1008, 7)]), store)
    assert figure(store, "fdc:1", "energy_kcal") == 5


def test_all_missing_files_and_columns_are_named_at_once(folder: Path, store: Path) -> None:
    written(folder, "food.csv", "fdc_id,kind\n1,x\n")
    written(folder, "food_portion.csv", "id,amount\n1,1\n")
    told = refused(folder, store).splitlines()
    assert len(told) == 3
    assert "There is no food_nutrient.csv." in told[0]
    assert (
        "food.csv, line 1: Columns are missing: data_type, description; found “fdc_id,kind”"
        in told[1]
    )
    assert "food_portion.csv, line 1: Columns are missing: fdc_id, gram_weight" in told[2]


def test_an_archive_is_read_like_its_folder(folder: Path, store: Path, tmp_path: Path) -> None:
    csv_folder(folder, [food(1, "Crème dip")], [amount(1, 1008, 5)])
    files = {f"{folder.name}/{path.name}": path.read_bytes() for path in folder.iterdir()}
    done = imported(zipped(tmp_path / "FoodData_2023-04-20.zip", files), store)
    assert [source.title for source in done.sources] == ["SR Legacy, 2023-04-20"]
    assert [file.name for file in done.sources[0].files] == [
        "food.csv in FoodData_2023-04-20.zip",
        "food_nutrient.csv in FoodData_2023-04-20.zip",
    ]
    assert names(store) == ["Crème dip"]


def foundation() -> list[dict[str, Any]]:
    text = shared_file("fdc/foundation_subset.json").read_text("utf-8")
    foods: list[dict[str, Any]] = json.loads(text)["FoundationFoods"]
    return foods


def test_the_same_foods_as_csv_and_as_json_are_the_same(tmp_path: Path, folder: Path) -> None:
    foods = foundation()
    ids = {str(each["fdcId"]) for each in foods}
    units = {
        portion["measureUnit"]["id"]: portion["measureUnit"]
        for each in foods
        for portion in each["foodPortions"]
    }
    with shared_file("fdc/food_portion.csv").open(encoding="utf-8", newline="") as file:
        assert ids & {row["fdc_id"] for row in csv.DictReader(file)}
    csv_folder(
        folder,
        [food(each["fdcId"], each["description"], "foundation_food") for each in foods],
        [
            amount(each["fdcId"], row["nutrient"]["id"], row["amount"])
            for each in foods
            for row in each["foodNutrients"]
        ],
        nutrient=shared_file("fdc/nutrient.csv").read_text("utf-8"),
        food_portion=shared_file("fdc/food_portion.csv").read_text("utf-8"),
        measure_unit=table(("id", "name"), units.values()),
        foundation_food=table(
            ("fdc_id", "NDB_number"),
            [{"fdc_id": each["fdcId"], "NDB_number": each["ndbNumber"]} for each in foods],
        ),
    )
    as_csv, as_json = tmp_path / "csv.sqlite", tmp_path / "json.sqlite"
    imported(folder, as_csv)
    imported(shared_file("fdc/foundation_subset.json"), as_json, release="2024-10-31")
    keys = [f"fdc:{each['fdcId']}" for each in foods]
    with FoodStore.open(as_csv) as first, FoodStore.open(as_json) as second:
        one, two = first.table(keys), second.table(keys)
    assert np.array_equal(one.known, two.known)
    assert np.allclose(one.values, two.values, rtol=1e-12, atol=0)
    hummus = next(f for f in one if f.key == "fdc:321358")
    # The file weighs two tablespoons: 33.9 g.
    assert [(m.unit, m.grams) for m in hummus.measures] == [("tbsp", 16.95)]
    assert [(f.name, f.ndb, f.source) for f in one] == [(f.name, f.ndb, f.source) for f in two]

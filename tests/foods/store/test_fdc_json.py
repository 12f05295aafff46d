"""Importing FoodData Central as JSON."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from reformulate.foods import INDEX
from reformulate.foods.store import FoodStore
from tests.foods.store.releases import (
    figure,
    imported,
    json_amount,
    json_file,
    json_food,
    names,
    refused,
    shared_file,
    written,
    zipped,
)


@pytest.fixture
def store(tmp_path: Path) -> Path:
    return tmp_path / "store" / "foods.sqlite"


def test_every_figure_of_the_published_foods_comes_in_as_it_stands_there(store: Path) -> None:
    path = shared_file("fdc/foundation_subset.json")
    done = imported(path, store)
    assert done.foods == 9
    # This file weighs portions without saying of how many, and it is not always one.
    assert [(each.what, each.count) for each in done.skipped] == [
        ("The portion does not tell of how many it is: left out.", 11)
    ]
    same = {"protein_g": 1003, "fat_g": 1004, "sodium_mg": 1093, "water_g": 1051, "fibre_g": 1079}
    for food in json.loads(path.read_text("utf-8"))["FoundationFoods"]:
        amounts = {row["nutrient"]["id"]: row["amount"] for row in food["foodNutrients"]}
        key = f"fdc:{food['fdcId']}"
        for nutrient, component in same.items():
            assert figure(store, key, nutrient) == amounts.get(component)
        assert figure(store, key, "energy_kcal") == amounts[1008]
        assert figure(store, key, "sugars_g") == amounts.get(2000, amounts.get(1063))
        assert figure(store, key, "added_sugars_g") is None


def test_the_published_hummus_reads_as_a_food(store: Path) -> None:
    imported(shared_file("fdc/foundation_subset.json"), store)
    with FoodStore.open(store) as opened:
        table = opened.table(["fdc:321358"])
    (hummus,) = table
    assert hummus.name == "Hummus, commercial"
    assert hummus.group == "Legumes and Legume Products"
    assert hummus.ndb == "16158"
    assert hummus.measures == ()
    assert "DFE" in hummus.note
    assert not table.known[0, INDEX["folate_ug"]]


def test_a_label_fills_what_the_figures_per_100_g_leave_open(tmp_path: Path, store: Path) -> None:
    food = json_food(
        7,
        "RANCH DIP",
        dataType="Branded",
        brandOwner="Invented",
        brandedFoodCategory="Dips",
        servingSize=30.0,
        servingSizeUnit="g",
        householdServingFullText="2 Tbsp",
        labelNutrients={
            "calories": {"value": 140},
            "sodium": {"value": 240.0},
            "addedSugar": {"value": 0},
            "transFat": {"value": 1},
            "fat": {"value": None},
        },
    )
    imported(json_file(tmp_path, food), store)
    assert figure(store, "fdc:7", "energy_kcal") == 100
    assert figure(store, "fdc:7", "sodium_mg") == pytest.approx(800)
    assert figure(store, "fdc:7", "added_sugars_g") == 0
    assert figure(store, "fdc:7", "fat_g") is None
    with FoodStore.open(store) as opened:
        (found,) = opened.table(["fdc:7"])
    assert (found.name, found.group) == ("Ranch dip (Invented)", "Dips")
    assert [(m.unit, m.grams) for m in found.measures] == [("tbsp", 15.0)]
    assert "label" in found.note


def test_a_label_per_millilitres_fills_nothing(tmp_path: Path, store: Path) -> None:
    food = json_food(
        7, servingSize=30, servingSizeUnit="ml", labelNutrients={"sodium": {"value": 240}}
    )
    imported(json_file(tmp_path, food), store)
    assert figure(store, "fdc:7", "sodium_mg") is None


def test_survey_foods_have_their_own_category_and_portions(tmp_path: Path, store: Path) -> None:
    food = json_food(
        8,
        dataType="Survey (FNDDS)",
        wweiaFoodCategory={"wweiaFoodCategoryDescription": "Dips, gravies", "code": 1},
        foodPortions=[
            {
                "measureUnit": {"id": 9999, "name": "undetermined"},
                "modifier": "10205",
                "gramWeight": 15.0,
                "portionDescription": "1 tablespoon",
            },
            {
                "measureUnit": {"id": 9999, "name": "undetermined"},
                "modifier": "90000",
                "gramWeight": 30.0,
                "portionDescription": "Quantity not specified",
            },
        ],
    )
    imported(json_file(tmp_path, food), store)
    with FoodStore.open(store) as opened:
        (found,) = opened.table(["fdc:8"])
        assert opened.search("dip")[0].source == "Survey (FNDDS), foods.json"
    assert found.group == "Dips, gravies"
    assert [(m.unit, m.grams) for m in found.measures] == [("tbsp", 15.0)]


@pytest.mark.parametrize("field", ["amount", "value"])
def test_a_portion_is_of_as_many_as_it_says(tmp_path: Path, store: Path, field: str) -> None:
    unit = {"id": 1001, "name": "tablespoon"}
    portions = [{"measureUnit": unit, "modifier": "", "gramWeight": 33.9, field: 2.0}]
    imported(json_file(tmp_path, json_food(1, foodPortions=portions)), store)
    with FoodStore.open(store) as opened:
        (found,) = opened.table(["fdc:1"])
    assert [(m.unit, m.grams) for m in found.measures] == [("tbsp", 16.95)]


def test_units_are_turned_and_what_cannot_be_turned_is_left_out(
    tmp_path: Path, store: Path
) -> None:
    amounts = [
        json_amount(1093, 0.5, "g"),
        json_amount(1008, 418.4, "kJ"),
        json_amount(1003, 1, "IU"),
    ]
    done = imported(json_file(tmp_path, json_food(1, foodNutrients=amounts)), store)
    assert figure(store, "fdc:1", "sodium_mg") == 500
    assert figure(store, "fdc:1", "energy_kcal") == pytest.approx(100)
    assert figure(store, "fdc:1", "protein_g") is None
    assert [(each.what, each.places) for each in done.skipped] == [
        ("The unit of a nutrient cannot be turned into ours.", ("FDC 1",))
    ]


def test_what_stands_beside_the_list_does_not_matter(tmp_path: Path, store: Path) -> None:
    text = json.dumps(
        {"about": {"list": [1, 2]}, "count": 12, "SRLegacyFoods": [json_food(1)], "end": None},
        indent=2,
    )
    imported(written(tmp_path, "bulk.json", "\ufeff\n" + text + "\n"), store)
    assert names(store) == ["Dip, plain"]


def test_several_lists_and_several_files_are_one_import(tmp_path: Path, store: Path) -> None:
    one = json.dumps({"FoundationFoods": [json_food(1, "One")], "MoreFoods": [json_food(2, "Two")]})
    two = json.dumps({"SRLegacyFoods": [json_food(3, "Three", dataType="SR Legacy")]})
    path = zipped(tmp_path / "fdc_2024-10-31.zip", {"a/one.json": one, "a/two.json": two})
    done = imported(path, store)
    assert [(source.title, source.foods) for source in done.sources] == [
        ("Foundation, 2024-10-31", 2),
        ("SR Legacy, 2024-10-31", 1),
    ]
    assert names(store) == ["One", "Three", "Two"]


@pytest.mark.parametrize("shape", ["one", "list"])
def test_picked_foods_stand_beside_a_whole_collection(
    tmp_path: Path, store: Path, shape: str
) -> None:
    imported(json_file(tmp_path, json_food(1, "Whole"), json_food(2, "Old")), store)
    new = json_food(2, "Picked")
    text = json.dumps(new if shape == "one" else [new])
    done = imported(written(tmp_path, "picked.json", text), store)
    assert (done.foods, done.replaced) == (1, 1)
    assert names(store) == ["Picked", "Whole"]
    imported(json_file(tmp_path, json_food(1, "Whole again")), store)
    assert names(store) == ["Picked", "Whole again"]
    with FoodStore.open(store) as opened:
        assert [(s.release, s.picked, s.foods) for s in opened.sources()] == [
            ("picked.json", True, 1),
            ("foods.json", False, 1),
        ]


def test_broken_foods_are_left_out_and_told_with_their_place(tmp_path: Path, store: Path) -> None:
    foods = [
        json_food(1),
        json_food(1, "Twice"),
        {"fdcId": "x", "dataType": "Foundation", "description": "No number"},
        json_food(2, foodNutrients=[{"nutrient": {"id": 1008}, "amount": "a lot"}]),
        json_food(123456789012),
        json_food(3, dataType="Experimental"),
        json_food(4, foodNutrients=[json_amount(1008, -5.0), json_amount(1093, float("nan"))]),
        json_food(5, foodNutrients=None, foodPortions=None),
        "no food",
    ]
    text = json.dumps({"FoundationFoods": foods})
    done = imported(written(tmp_path, "foods.json", text), store)
    assert names(store) == ["Dip, plain"]
    told = {each.what: each.count for each in done.skipped}
    assert told == {
        "fdcId stands there twice.": 1,
        "The food cannot be read: Expected `int`, got `str` - at `$.fdcId`.": 1,
        "The food cannot be read: Expected `float | null`, got `str` - at "
        "`$.foodNutrients[...].amount`.": 1,
        "The food cannot be read: Expected `object`, got `str`.": 1,
        "fdcId is not up to eight digits.": 1,
        "Of kind “Experimental”, which is no food to cook with.": 1,
        "An amount is below nothing or no number.": 2,
        "There are no figures for it.": 2,
    }
    twice = next(each for each in done.skipped if "twice" in each.what)
    at = text.index('{"fdcId": 1', 25)
    assert twice.places == (f"foods.json, character {at}",)


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "The text is no JSON object or list."),
        ("12", "The text is no JSON object or list."),
        ("{}", "There is no list of foods."),
        ('{"a": 1}', "There is no list of foods."),
        ('{"Foods": []}', "There are no foods in it."),
        ('{"Foods": [{"fdcId": 1', "The file is broken off."),
        ('{"Foods": [{"fdcId": 1}', "The file is broken off."),
        ('{"Foods": [{"fdcId": 1}]', "The file is broken off."),
        ('{"Foods": [{"descr', "The file is broken off."),
        ('{"Foods": [{"fdcId" 1}]}', "The text is not JSON (Expecting ':' delimiter)."),
        ('{"Foods": [{}] "b"}', 'Found “"”, expected , or }.'),
        ('{"Foods": []} x', "There is more text after the end."),
        ("{Foods: []}", "A name in quotes is expected."),
    ],
)
def test_what_is_no_list_of_foods_is_refused_with_the_place(
    tmp_path: Path, store: Path, text: str, what: str
) -> None:
    told = refused(written(tmp_path, "foods.json", text), store)
    assert what in told
    assert not store.exists()


def test_the_place_of_a_fault_is_that_in_the_whole_file(tmp_path: Path, store: Path) -> None:
    sound = json.dumps([json_food(i, "x" * 2000) for i in range(1, 1000)])[:-1]
    told = refused(written(tmp_path, "foods.json", sound + ", {oops}]"), store)
    assert f"at character {len(sound) + 4:,}: The text is not JSON" in told


def test_latin_letters_are_no_json(tmp_path: Path, store: Path) -> None:
    raw = json.dumps({"Foods": [json_food(1, "Crème")]}, ensure_ascii=False).encode("latin-1")
    told = refused(written(tmp_path, "foods.json", raw), store)
    assert "not UTF-8, which JSON must be" in told

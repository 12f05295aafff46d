"""Yields, times and nutrition that a page claims; all recipes are invented."""

from __future__ import annotations

import json
from typing import Any

import pytest

from reformulate.recipes.pages import Page, PageRecipe, read_page


def read(**said: Any) -> Page:
    recipe = {
        "@type": "Recipe",
        "name": "Dip",
        "recipeIngredient": ["1 egg"],
        "recipeInstructions": "Boil.",
    }
    return read_page(json.dumps(recipe | said).encode(), "dip.json")


def dip(**said: Any) -> PageRecipe:
    (recipe,) = read(**said).recipes
    return recipe


@pytest.mark.parametrize(
    ("said", "text", "servings"),
    [
        ("8 servings", "8 servings", 8.0),
        ("8", "8", 8.0),
        (8, "8", 8.0),
        (8.0, "8", 8.0),
        ("Yield: 8", "Yield: 8", 8.0),
        ("Serves 8", "Serves 8", 8.0),
        ("serves about 8", "serves about 8", 8.0),
        ("Servings: 8", "Servings: 8", 8.0),
        ("8 people", "8 people", 8.0),
        ("8 generous portions", "8 generous portions", 8.0),
        ("Serves eight", "Serves eight", 8.0),
        ("für 8 Personen", "für 8 Personen", 8.0),
        ("pour 8 personnes", "pour 8 personnes", 8.0),
        ("٨", "٨", 8.0),
        ("6 to 10", "6 to 10", 8.0),
        ("6-10 servings", "6-10 servings", 8.0),
        ("Serves 6 – 10", "Serves 6 – 10", 8.0),
        ("2 cups (8 servings)", "2 cups (8 servings)", 8.0),
        ("2 cups, serves 8", "2 cups, serves 8", 8.0),
        ("8 (1/4 cup) servings", "8 (1/4 cup) servings", 8.0),
        ("8 2-tablespoon servings", "8 2-tablespoon servings", 8.0),
        ("8 servings of 2 tablespoons", "8 servings of 2 tablespoons", 8.0),
        ("1/4 cup each, 8 servings", "1/4 cup each, 8 servings", 8.0),
        (["8", "8 servings (2 cups)"], "8 servings (2 cups)", 8.0),
        (["2 cups", "8"], "8", 8.0),
        ({"@type": "QuantitativeValue", "value": 8, "unitText": "servings"}, "8 servings", 8.0),
        ({"minValue": 6, "maxValue": 10, "unitText": "servings"}, "6-10 servings", 8.0),
        ("8&nbsp;servings", "8 servings", 8.0),
        ("Makes 2 cups", "Makes 2 cups", None),
        ("2 cups", "2 cups", None),
        ("24 crackers", "24 crackers", None),
        ("2-tablespoon servings", "2-tablespoon servings", None),
        ("1/4 cup servings", "1/4 cup servings", None),
        ("serving size 2 tablespoons", "serving size 2 tablespoons", None),
        ("a crowd", "a crowd", None),
        ("0 servings", "0 servings", None),
        ("99999 servings", "99999 servings", None),
        ("8-6 servings", "8-6 servings", None),
        ("", "", None),
        ([], "", None),
        (None, "", None),
    ],
)
def test_a_yield_is_kept_as_written_and_its_servings_counted(
    said: object, text: str, servings: float | None
) -> None:
    found = dip(recipeYield=said)
    assert (found.yield_text, found.servings) == (text, servings)


def test_a_yield_that_names_no_servings_is_said() -> None:
    assert "The page does not say how many it serves." in read().notes
    assert "The yield '2 cups' does not say how many it serves." in read(recipeYield="2 cups").notes


def test_the_middle_of_a_range_is_said() -> None:
    notes = read(recipeYield="4 to 7").notes
    assert notes == ("The yield '4 to 7' was read as 5.5 servings, the middle.",)


def test_times_are_minutes() -> None:
    found = dip(totalTime="PT1H30M", prepTime="20 minutes", cookTime="P0DT1H10M")
    assert found.total_minutes == 90.0
    assert found.prep_minutes == 20.0
    assert found.cook_minutes == 70.0
    assert dip(performTime={"@type": "Duration", "maxValue": "PT5M"}).cook_minutes == 5.0


def test_a_time_that_is_not_understood_is_said_and_left_out() -> None:
    found = read(recipeYield=4, totalTime="overnight", prepTime="P30M")
    assert found.recipes[0].total_minutes is None
    assert found.recipes[0].prep_minutes is None
    assert found.notes == (
        "The time in all, 'overnight', was not understood.",
        "The time to prepare, 'P30M', was not understood.",
    )


@pytest.mark.parametrize(
    ("name", "said", "key", "value", "unit", "ours"),
    [
        ("calories", "240 calories", "energy_kcal", 240.0, "kcal", 240.0),
        ("calories", "240 kcal", "energy_kcal", 240.0, "kcal", 240.0),
        ("calories", "240", "energy_kcal", 240.0, "kcal", 240.0),
        ("calories", 240, "energy_kcal", 240.0, "kcal", 240.0),
        ("calories", "1,240 cal", "energy_kcal", 1240.0, "kcal", 1240.0),
        # 1 kcal = 4.184 kJ by definition.
        ("calories", "1004.16 kJ", "energy_kcal", 1004.16, "kJ", 240.0),
        ("calories", "1005 kJ / 240 kcal", "energy_kcal", 240.0, "kcal", 240.0),
        ("fatContent", "9 g", "fat_g", 9.0, "g", 9.0),
        ("fatContent", "9g", "fat_g", 9.0, "g", 9.0),
        ("fatContent", "9.5 grams fat", "fat_g", 9.5, "g", 9.5),
        ("fatContent", "2,5 g", "fat_g", 2.5, "g", 2.5),
        ("fatContent", "9", "fat_g", 9.0, "", None),
        ("saturatedFatContent", "3 g (15%)", "saturated_g", 3.0, "g", 3.0),
        ("transFatContent", "0 g", "", 0.0, "g", None),
        ("unsaturatedFatContent", "4 g", "", 4.0, "g", None),
        ("cholesterolContent", "25 mg", "cholesterol_mg", 25.0, "mg", 25.0),
        ("carbohydrateContent", "7 g", "carbohydrate_g", 7.0, "g", 7.0),
        ("fiberContent", "500 mg", "fibre_g", 500.0, "mg", 0.5),
        ("sugarContent", "4 g", "sugars_g", 4.0, "g", 4.0),
        ("sodiumContent", "1,005 mg", "sodium_mg", 1005.0, "mg", 1005.0),
        ("sodiumContent", "1 005 mg", "sodium_mg", 1005.0, "mg", 1005.0),
        ("sodiumContent", "0.45 g", "sodium_mg", 0.45, "g", 450.0),
        ("sodiumContent", "10 %", "sodium_mg", 10.0, "%", None),
        ("proteinContent", {"value": 3, "unitText": "g"}, "protein_g", 3.0, "g", 3.0),
    ],
)
def test_a_nutrient_is_a_number_and_a_unit_as_printed(
    name: str, said: object, key: str, value: float, unit: str, ours: float | None
) -> None:
    (claim,) = dip(nutrition={"@type": "NutritionInformation", name: said}).nutrition
    assert (claim.key, claim.value, claim.unit) == (key, value, unit)
    assert claim.in_our_unit == (None if ours is None else pytest.approx(ours))
    assert claim.label
    assert not claim.below


def test_less_than_is_kept() -> None:
    for said in ("<1 g", "less than 1 g", "&lt; 1g"):
        (claim,) = dip(nutrition={"fiberContent": said}).nutrition
        assert (claim.value, claim.unit, claim.below) == (1.0, "g", True)


@pytest.mark.parametrize("said", ["trace", "10-12 g", "-3 g", "some", "1.2.3 g"])
def test_a_nutrient_that_is_not_understood_is_said(said: str) -> None:
    found = read(recipeYield=4, nutrition={"fatContent": said})
    assert found.recipes[0].nutrition == ()
    assert found.notes == (f"Fat of '{said}' a serving was not understood.",)


def test_nutrition_in_one_text_is_said_not_guessed() -> None:
    found = read(recipeYield=4, nutrition="Calories: 240; Fat: 9 g")
    assert found.recipes[0].nutrition == ()
    assert found.notes == ("The nutrition of the page is one text and was not read.",)


def test_the_serving_that_a_claim_speaks_of_is_kept() -> None:
    found = dip(nutrition={"servingSize": "1/4 cup (60 g)", "calories": "90"})
    assert found.serving_text == "1/4 cup (60 g)"
    assert found.nutrition[0].text == "90"

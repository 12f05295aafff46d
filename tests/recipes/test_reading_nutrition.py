"""Nutrients that a pasted recipe prints: read as the source's figures, and compared by the review.

All rows are invented.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.foods import NUTRIENTS, food_table
from reformulate.measures import SYSTEMS
from reformulate.recipes import nutrition_of, weigh_recipe
from reformulate.recipes.reading import printed_for_a_serving, read_text
from reformulate.recipes.review import Kind, review
from reformulate.recipes.taking_in import read_source, recipe_of, take_in

KEYS = {kind.key for kind in NUTRIENTS}


def printed(*rows: str) -> dict[str, float]:
    return dict(claim for claims in printed_for_a_serving(rows) for claim in claims)


@pytest.mark.parametrize(
    ("row", "claims"),
    [
        (
            "Per serving: 210 kcal, 16 g fat, 9 g carbs, 8 g protein",
            {"energy_kcal": 210, "fat_g": 16, "carbohydrate_g": 9, "protein_g": 8},
        ),
        (
            "Calories: 210 | Total Fat: 16g | Saturated Fat: 8.5g | Cholesterol: 40mg | Sodium: 1,474 mg",
            {
                "energy_kcal": 210,
                "fat_g": 16,
                "saturated_g": 8.5,
                "cholesterol_mg": 40,
                "sodium_mg": 1474,
            },
        ),
        (
            "Energy 880kJ/210kcal, fat 16g (of which saturates 8g), carbohydrate 9g (of which sugars 3g), "
            "fibre 1.2g, protein 8g, salt 1.2g",
            {
                "energy_kcal": 210,
                "fat_g": 16,
                "saturated_g": 8,
                "carbohydrate_g": 9,
                "sugars_g": 3,
                "fibre_g": 1.2,
                "protein_g": 8,
                "sodium_mg": 480,  # Regulation (EU) 1169/2011: salt is sodium x 2.5
            },
        ),
        (
            "Nutrition per portion 210 calories; 16g of fat; 2g dietary fiber; 474 mg sodium (21% DV)",
            {"energy_kcal": 210, "fat_g": 16, "fibre_g": 2, "sodium_mg": 474},
        ),
        ("210 cal, Fat (g): 16", {"energy_kcal": 210, "fat_g": 16}),
        ("Protein - 8 grams", {"protein_g": 8}),
        ("Total Carbohydrate 9 g; Net Carbs 7 g", {"carbohydrate_g": 9}),
        ("Calories 210 Calories from Fat 144", {"energy_kcal": 210}),
        ("Includes 2g added sugars", {"added_sugars_g": 2}),
        ("Energy: 880 kJ", {"energy_kcal": pytest.approx(880 / 4.184)}),
        ("Fat 16 g; fat 99 g", {"fat_g": 16}),
        ("Fat 20%", {}),
        ("Dietary fibre less than 1 g", {}),  # no figure
        ("Prep time: 10 min", {}),
        ("Enjoy with 2 friends", {}),
    ],
)
def test_a_row_of_nutrients_gives_keys_and_values_in_our_units(
    row: str, claims: dict[str, float]
) -> None:
    assert printed(row) == claims


def test_a_block_is_read_row_by_row_and_the_first_figure_of_a_nutrient_counts() -> None:
    assert printed("Nutrition (per serving)", "Calories: 210", "Fat: 16 g", "Fat: 99 g") == {
        "energy_kcal": 210,
        "fat_g": 16,
    }


def test_figures_for_a_hundred_grams_are_not_a_serving_s() -> None:
    rows = ("Per 100 g:", "Calories: 330", "Fat: 24 g", "Per serving:", "Calories: 210")
    assert printed(*rows) == {"energy_kcal": 210}


@pytest.mark.parametrize(
    "row",
    [
        "16 g low fat yogurt",
        "2 tbsp (30 g) low fat yogurt (20 kcal)",
        "1 tbsp reduced-fat mayonnaise",
        "8 oz 1/3-less-fat cream cheese",
        "100 g sugar",
        "1 tsp salt",
    ],
)
def test_an_ingredient_stays_one_whatever_it_says_of_fat_and_salt(row: str) -> None:
    found = read_text(f"Dip\n\n{row}\n2 cups white beans\n\nMix it all.")
    assert len(found.lines) == 2
    assert found.lines[0].text == row


DIP = """Alder bean dip
Serves 4

2 cups white beans, canned, drained
1/4 cup olive oil
1 tbsp lemon juice

Blend everything.

{}
"""


def test_what_a_text_prints_is_compared_with_what_the_amounts_come_to() -> None:
    table, system = food_table(), SYSTEMS["us"]
    (source,) = read_source(DIP.format("Per serving: 95 kcal, 2 g fat, 8 g protein").encode())
    assert dict(source.claims) == {"energy_kcal": 95, "fat_g": 2, "protein_g": 8}
    assert any("Kept as what the source prints" in note for note in source.notes)
    recipe = recipe_of(take_in(source, table, system))
    findings = review(weigh_recipe(recipe, table, system), table, system)
    wrong = [finding.what for finding in findings if finding.kind is Kind.CLAIM]
    # 54 g of oil, 13.5 g a serving, is 119 kcal by itself (SR28 04053: 884 kcal in 100 g)
    assert any(what.startswith("Energy: 95 kcal") for what in wrong)
    assert any(what.startswith("Fat: 2 g") for what in wrong)


def test_figures_that_agree_are_no_finding() -> None:
    table, system = food_table(), SYSTEMS["us"]
    (plain,) = read_source(DIP.format("").encode())
    recipe = recipe_of(take_in(plain, table, system))
    found = nutrition_of(weigh_recipe(recipe, table, system)).per_serving
    row = f"Nutrition per serving: {found[1]:.0f} kcal, {found[3]:.0f} g fat, {found[2]:.0f} g protein"
    (source,) = read_source(DIP.format(row).encode())
    assert len(source.claims) == 3
    recipe = recipe_of(take_in(source, table, system))
    findings = review(weigh_recipe(recipe, table, system), table, system)
    assert not [finding for finding in findings if finding.kind is Kind.CLAIM]


@given(st.lists(st.text(max_size=200), max_size=6))
def test_any_rows_are_answered_one_by_one_with_figures_that_are_no_less_than_nothing(
    rows: list[str],
) -> None:
    answers = printed_for_a_serving(rows)
    assert len(answers) == len(rows)
    claims = [claim for found in answers for claim in found]
    assert len({key for key, _ in claims}) == len(claims)
    assert all(key in KEYS and value >= 0 for key, value in claims)

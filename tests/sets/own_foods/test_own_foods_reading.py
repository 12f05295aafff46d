"""The own foods of a set as they are read, and in which words the faults of the file are told."""

from __future__ import annotations

import pytest

from reformulate.errors import BadInput
from reformulate.foods.own import Basis, Rounding, Stated
from reformulate.measures import Measure
from reformulate.sets.own_foods import OWN_FOODS_FILE, read_own_foods, unread_own_food_keys
from tests.sets.own_foods.food_files import TEXT, read


def problems_of(text):
    with pytest.raises(BadInput) as caught:
        read(text)
    return [str(problem) for problem in caught.value.problems]


def test_a_file_is_read(folder):
    light, base = read_own_foods(folder)
    assert (light.key, light.serving_grams, light.rounding) == (
        "own:light-dip",
        30,
        Rounding.US_LABEL,
    )
    assert light.stated == (
        Stated(nutrient="energy_kcal", amount=60),
        Stated(nutrient="cholesterol_mg", amount=5, below=True),
    )
    assert light.measures == (Measure(unit="cup", grams=240),)
    assert (base.recipe, base.per) == ("base.toml", Basis.HUNDRED_GRAMS)
    assert base.stated == (Stated(nutrient="fat_g", amount=3.5),)


def test_a_set_without_the_file_has_no_own_foods(tmp_path):
    assert read_own_foods(tmp_path) == ()
    assert read_own_foods(tmp_path / "gone") == ()


def test_every_fault_of_a_file_is_said_at_once():
    text = """\
format = 1
[[food]]
key = "own:a"
nam = "A"
per = "portion"
[food.stated]
fat_g = true
sodum_mg = 3
protein_g = "some"

[[food]]
key = "garlic"
name = "Garlic paste"
serving_grams = 0
stated = {energy_kcal = 3700, calcium_mg = "4 %"}
[[food.measure]]
unit = "Tbs"
grams = "three"

[[food]]
key = "own:b"
name = "B"

[[food]]
key = "own:c"
name = "C"
measure = 3
stated = []

[[food]]
key = "own:d"
name = "D"
stated = {}
[[food]]
key = "own:d"
name = "E"
stated = {}
"""
    assert problems_of(text) == [
        "foods.toml, food 1 (own:a), name: is missing, expected text. Did you mean it by 'nam'?",
        "foods.toml, food 1 (own:a), per: found the text 'portion', expected one of: serving, 100g. "
        'Write per = "serving", for example.',
        "foods.toml, food 1 (own:a), stated, fat_g: found true, expected a number. Write it as in "
        "fat_g = 1.5.",
        "foods.toml, food 1 (own:a), stated, sodum_mg: is not read. Did you mean 'sodium_mg'?",
        "foods.toml, food 1 (own:a), stated, protein_g: found “some”, expected a figure in g. Write "
        "it as printed: 4.5, <5, 4 %, or 60 (4 %).",
        "foods.toml, food 2 (garlic), measure 1, grams: found the text 'three', expected a number. "
        "Write it as in grams = 1.5.",
        "foods.toml, food 2 (garlic), key: found “garlic”, expected own: and small words joined by "
        "hyphens. Write own:garlic, for example.",
        "foods.toml, food 2 (garlic), serving_grams: found 0, expected 0.01 or more, up to 100000. "
        "Write the mass in grams.",
        "foods.toml, food 2 (garlic), energy: found 3700 kcal in 100 g of food, where at most 902 "
        "kcal can be. Check the figure, its unit, and how much it is for.",
        "foods.toml, food 2 (garlic), stated, calcium_mg: found 4 %, a share of the daily value, on "
        "what is no US label. Write the amount alone.",
        "foods.toml, food 3 (own:b), stated: is missing. Write its figures below a row [food.stated].",
        "foods.toml, food 4 (own:c), measure: expected tables. Begin each with a row "
        "[[food.measure]].",
        "foods.toml, food 4 (own:c), stated: expected a table. Begin it with a row [food.stated].",
        "foods.toml, food 6 (own:d): has the key of food 5, “own:d”. Give it another key.",
    ]


def test_a_misspelt_key_beside_other_faults_is_told_once():
    text = """\
format = 1
[[food]]
key = "own:a"
name = "A"
stated = {fat_g = true, sodum_mg = 3}
"""
    assert problems_of(text) == [
        "foods.toml, food 1 (own:a), stated, fat_g: found true, expected a number. Write it as in "
        "fat_g = 1.5.",
        "foods.toml, food 1 (own:a), stated, sodum_mg: is not read. Did you mean 'sodium_mg'?",
    ]


def test_values_that_will_not_do_are_said_with_food_and_key():
    text = """\
format = 1
[[food]]
key = "own:A"
name = " "
serving_grams = 0
stated = {energy_kcal = 3700, calcium_mg = "4 %", fat_g = nan, protein_g = "<0", salt_g = "some"}
"""
    told = problems_of(text)
    assert [
        each.partition(": ")[0].removeprefix("foods.toml, food 1 (own:A), ") for each in told
    ] == [
        "stated, salt_g",
        "key",
        "name",
        "serving_grams",
        "energy",
        "stated, protein_g",
        "stated, fat_g",
        "stated, calcium_mg",
    ]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("format = 2\nfood = 3\n", "written by a newer release"),
        ('[[food]]\nkey = "own:a"\nname = "A"\nstated = {}\n', "format: is missing, expected 1."),
        ("format = 1\nfood = 3\n", "foods.toml, food: expected tables."),
        ("format = 1\nfood = [3]\n", "foods.toml, food 1: expected a table."),
        (
            "format = 1\n[[Foods]]\nkey = 1\n",
            "foods.toml, Foods: is not read. Did you mean [[food]]?",
        ),
        ("format = 1\nfood = {}\n", "foods.toml, food: expected tables."),
    ],
)
def test_files_of_another_shape_say_what_is_expected(text, told):
    assert any(told in each for each in problems_of(text))


def test_keys_that_are_not_read_and_look_misspelt_can_be_listed(folder):
    assert unread_own_food_keys(folder) == ()
    (folder / OWN_FOODS_FILE).write_bytes(
        TEXT.replace("ash_g", "fibr_g").replace("shop =", "grup =").encode()
    )
    assert [str(each) for each in unread_own_food_keys(folder)] == [
        "foods.toml, food 1 (own:light-dip), grup: is not read. Did you mean 'group'?",
        "foods.toml, food 1 (own:light-dip), stated, fibr_g: is not read. Did you mean 'fibre_g'?",
    ]

"""Own foods written into a file by hand: comments, other keys and the layout are kept."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.foods.own import Stated, food_from_label, own_food_problems
from reformulate.measures import Measure
from reformulate.sets.loading import parse
from reformulate.sets.own_foods import OWN_FOODS_FILE, read_own_foods
from reformulate.sets.own_foods_writing import remove_own_food, render_own_foods, write_own_food
from tests.foods.own.labels import ONION_DIP
from tests.sets.own_foods.food_files import LAYOUTS, TEXT, collections, content, own_foods, read


@given(own_foods())
def test_the_foods_that_are_drawn_are_sound(food):
    assert list(own_food_problems(food)) == []


def test_a_label_is_saved_and_read_as_it_was(tmp_path):
    dip = food_from_label("Light onion dip", ONION_DIP, serving="2 tbsp (30 g)")
    write_own_food(tmp_path, dip)
    assert read_own_foods(tmp_path) == (dip,)
    assert [(f.value, f.low, f.high) for f in read_own_foods(tmp_path)[0].per_100g] == [
        (f.value, f.low, f.high) for f in dip.per_100g
    ]
    assert (
        content(tmp_path)
        == """\
format = 1

[[food]]
key = "own:light-onion-dip"
name = "Light onion dip"
per = "serving"
rounding = "us label"
serving = "2 tbsp"
serving_grams = 30
source = "package label, per serving of 30 g"

[food.stated]
energy_kcal = 60
protein_g = 2
fat_g = 4.5
saturated_g = 2.5
cholesterol_mg = 15
carbohydrate_g = 4
fibre_g = 0
sugars_g = 2
added_sugars_g = "<1"
sodium_mg = 180
potassium_mg = 90
calcium_mg = "60 (4 %)"
iron_mg = "0 %"
vitamin_d_ug = 0
"""
    )


@given(collections)
def test_foods_written_and_read_are_the_same(foods):
    assert read(render_own_foods(foods).decode()) == foods


@given(collections)
def test_a_second_writing_changes_nothing(foods):
    data = render_own_foods(foods)
    assert render_own_foods(foods, data) == data


@given(collections, collections, st.booleans())
def test_writing_over_other_foods_gives_the_new_ones(old, new, windows):
    before = render_own_foods(old)
    if windows:
        before = before.replace(b"\n", b"\r\n")
    assert read(render_own_foods(new, before).decode()) == new


@pytest.mark.parametrize("layout", LAYOUTS)
@given(foods=collections)
def test_any_layout_takes_foods_and_keeps_what_is_not_ours(layout, foods):
    before = LAYOUTS[layout]
    after = render_own_foods(foods, before.encode()).decode()
    assert read(after) == foods
    was = parse(before.lstrip("\ufeff"), "x") if before else {}
    now = parse(after.lstrip("\ufeff"), "x")
    for key in ("cellar", "mine", "yours"):
        assert now.get(key) == was.get(key)
    kept = {table["key"]: table for table in now.get("food", [])}
    for table in was.get("food", []):
        for key in ("shop", "x", "mine"):
            if table["key"] in kept:
                assert kept[table["key"]].get(key) == table.get(key)
    assert ("# Foods of ours" in after) is ("# Foods of ours" in before)
    assert after.startswith("\ufeff") is before.startswith("\ufeff")
    assert ("\r\n" in after) is ("\r\n" in before)


def test_only_what_has_changed_is_written_anew(folder):
    light, _ = read_own_foods(folder)
    dearer = replace(
        light,
        name="Lighter dip",
        stated=(*light.stated[1:], Stated(nutrient="energy_kcal", amount=50)),
        measures=(Measure(unit="tbsp", grams=14), *light.measures),
    )
    write_own_food(folder, dearer)
    expected = TEXT.replace('name = "Light dip"', 'name = "Lighter dip"').replace(
        "energy_kcal = 60", "energy_kcal = 50"
    )
    expected = expected.replace(
        '[[food.measure]]\nunit = "cup"',
        '[[food.measure]]\nunit = "tbsp"\ngrams = 14\n\n[[food.measure]]\nunit = "cup"',
    )
    assert content(folder) == expected


def test_a_food_that_stays_is_left_as_it_is_written(folder):
    row = 'measure = [{unit = "cup", grams = 230}] # in one row\n'
    text = TEXT.replace("stated = {fat_g = 3.5}", f"{row}stated = {{fat_g = '3.5 g'}}")
    (folder / OWN_FOODS_FILE).write_bytes(text.encode())
    light, _ = read_own_foods(folder)
    write_own_food(folder, replace(light, name="Lighter dip"))
    assert content(folder) == text.replace("Light dip", "Lighter dip")


def test_a_food_that_is_removed_goes_with_its_comment_and_all_else_stays(folder):
    remove_own_food(folder, "own:light-dip")
    first, last = TEXT.index("\n# The light one"), TEXT.index("\n# Ours")
    assert content(folder) == TEXT[:first] + TEXT[last:]
    remove_own_food(folder, "own:base")
    assert read_own_foods(folder) == ()
    assert content(folder).startswith(
        '# Foods of ours, invented\nformat = 1\ncellar = "left shelf" # mine\n'
    )

"""Own foods beside the program's: keys, order, merging, use in a recipe."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from reformulate.errors import BadInput
from reformulate.foods import INDEX, food_table, quantities_of, search_foods
from reformulate.foods.own import food_from_label, own_key, own_table
from reformulate.foods.own.keys import is_own_key
from reformulate.measures import SYSTEMS, Measure
from reformulate.recipes import Line, Recipe, nutrition_of, weigh_recipe
from tests.foods.own.labels import ONION_DIP


@pytest.fixture
def dip():
    return food_from_label(
        "Light onion dip", ONION_DIP, serving="2 tbsp (30 g)", words=["zwiebelquark"]
    )


def test_merging_keeps_every_food_of_both(dip):
    merged = food_table().merged(own_table([dip]))
    assert len(merged) == len(food_table()) + 1
    assert merged.food("own:light-onion-dip").name == "Light onion dip"
    assert np.array_equal(merged.values[:-1], food_table().values)
    assert merged.food("garlic") == food_table().food("garlic")


def test_no_food_of_the_program_has_a_key_of_an_own_food():
    assert not [food.key for food in food_table() if is_own_key(food.key)]


def test_an_own_food_is_found_by_its_name_and_further_words(dip):
    merged = food_table().merged(own_table([dip]))
    for text in ("light onion d", "zwiebelq"):
        assert search_foods(merged, text, 1)[0].key == dip.key


def test_a_recipe_takes_an_own_food_by_its_measures_and_unknown_stays_unknown(dip):
    foods = food_table().merged(own_table([dip]))
    recipe = Recipe(
        title="Dressed beans",
        servings=2,
        lines=(
            Line(id="dip", food=dip.key, amount="4 tbsp"),
            Line(id="salt", food="salt-table", grams=1),
        ),
    )
    found = nutrition_of(weigh_recipe(recipe, foods, SYSTEMS["label"]))
    # 4 label tablespoons are the 60 g of two servings: 120 kcal as printed
    assert found.totals[INDEX["energy_kcal"]] == pytest.approx(120)
    assert found.at_least[INDEX["vitamin_c_mg"]]
    assert not found.at_least[INDEX["sodium_mg"]]


def test_taste_of_an_own_food_is_unknown_where_the_label_does_not_tell_it(dip):
    values, known = quantities_of(own_table([dip]))
    assert known.shape == values.shape == (1, 39)
    assert known[0, 30]  # saltiness, from sodium
    assert not known[0, 31:34].any()


def test_a_key_that_two_foods_have_is_refused(dip):
    with pytest.raises(BadInput, match="“Light onion dip” and “Other” have the same key"):
        own_table([dip, replace(dip, name="Other")])


@pytest.mark.parametrize(
    "key", ["garlic", "ndb:01001", "own:", "own:A", "own:a b", "own:-a", "own:a--b"]
)
def test_keys_that_might_clash_or_cannot_be_typed_are_refused(dip, key):
    with pytest.raises(BadInput, match="expected own: and small words"):
        own_table([replace(dip, key=key)])


def test_measures_are_checked(dip):
    wrong = (Measure(unit="Tbs", grams=3), Measure(unit="cup", grams=0))
    with pytest.raises(BadInput) as caught:
        own_table([replace(dip, measures=wrong)])
    assert [str(problem) for problem in caught.value.problems] == [
        "food “own:light-onion-dip”, measure 1, unit: found “Tbs”, expected a unit of amounts. Write "
        "one such as cup, tbsp, piece or pack.",
        "food “own:light-onion-dip”, measure 2, grams: found 0, expected 0.01 or more, up to 100000. "
        "Write the mass in grams.",
    ]


def test_no_own_foods_are_an_empty_table():
    assert len(food_table().merged(own_table([]))) == len(food_table())


@given(st.text(max_size=80), st.sets(st.sampled_from(["own:food", "own:a", "own:a-2", "own:b"])))
@example("𝓐 İ ﬁ ẞ Ꭰ ª ²", set())
def test_a_key_made_of_any_name_is_sound_and_free(name, taken):
    key = own_key(name, taken)
    assert is_own_key(key), key
    assert key not in taken

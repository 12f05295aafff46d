"""A dip as a food of another recipe: its figures, what stays unknown, circles."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given

from reformulate.errors import BadInput
from reformulate.foods import INDEX, NUTRIENTS, FoodTable, food_table
from reformulate.foods.own import OwnFood, own_food_findings, own_table
from reformulate.measures import SYSTEMS
from reformulate.recipes import Line, Recipe, nutrition_of, weigh_recipe
from reformulate.recipes.as_food import chain_problems, food_from_recipe
from tests.strategies import recipes

FOODS = food_table()
US = SYSTEMS["us"]
N = len(NUTRIENTS)


def weighed(recipe, *own):
    return weigh_recipe(recipe, FOODS.merged(own_table(own)), US)


def recipe_of(title, *foods, servings=4.0, loss=0.0):
    lines = tuple(Line(id=f"{n}", food=food, grams=grams) for n, (food, grams) in enumerate(foods))
    return Recipe(title=title, servings=servings, moisture_loss_percent=loss, lines=lines)


def stated(food):
    return {each.nutrient: each.amount for each in food.stated}


@pytest.fixture
def onions():
    """Onions fried in oil, invented: 400 g less 40 %, and 20 g of oil less 40 % of its mass."""
    return recipe_of(
        "Onion base", ("onion-yellow", 400.0), ("oil-olive", 20.0), servings=3, loss=40
    )


def test_figures_are_those_of_100_g_finished_worked_by_hand(onions):
    onion = {key: FOODS.values[FOODS.index("onion-yellow"), at] for key, at in INDEX.items()}
    oil = {key: FOODS.values[FOODS.index("oil-olive"), at] for key, at in INDEX.items()}
    food = food_from_recipe(weighed(onions), "own:onion-base", "Onion base")
    finished = 420 * 0.6
    for key in ("energy_kcal", "fat_g", "sugars_g"):
        by_hand = (4.0 * onion[key] + 0.2 * oil[key]) / finished * 100
        assert stated(food)[key] == pytest.approx(by_hand, rel=1e-5), key
    water = (4.0 * onion["water_g"] + 0.2 * oil["water_g"] - 420 * 0.4) / finished * 100
    assert stated(food)["water_g"] == pytest.approx(water, rel=1e-5)
    assert food.serving_grams == pytest.approx(84)
    (serving,) = food.all_measures
    assert (serving.qualifier, serving.grams) == ("serving", pytest.approx(84))
    assert food.source == "recipe “Onion base”, 252 g finished, 3 servings"


def test_a_nutrient_that_one_food_does_not_know_is_unknown_and_no_other():
    values = np.ones((2, N))
    known = np.ones((2, N), dtype=bool)
    known[1, INDEX["fibre_g"]] = False
    pair = FoodTable(
        foods=tuple(replace(FOODS.foods[0], key=k) for k in "ab"), values=values, known=known
    )
    recipe = recipe_of("Pair", ("a", 10.0), ("b", 1.0))
    food = food_from_recipe(weigh_recipe(recipe, pair, US), "own:pair", "Pair")
    assert set(INDEX) - set(stated(food)) == {"fibre_g"}


def test_the_food_stands_in_another_recipe_for_its_lines(onions):
    food = food_from_recipe(weighed(onions), "own:onion-base", "Onion base")
    dip = recipe_of("Dip", (food.key, 252.0), ("sour-cream", 200.0))
    with_food = nutrition_of(weighed(dip, food))
    alone = nutrition_of(weighed(onions))
    cream = nutrition_of(weighed(recipe_of("Cream", ("sour-cream", 200.0))))
    total = (alone.totals + cream.totals)[:N]
    assert with_food.totals[:N] == pytest.approx(total, rel=1e-4, abs=1e-4)


@given(recipes())
def test_a_dish_of_the_food_alone_is_the_dish(recipe):
    batch = weigh_recipe(recipe, FOODS, US)
    found = nutrition_of(batch)
    food = food_from_recipe(batch, "own:dish", "Dish")
    again = nutrition_of(weighed(recipe_of("Again", ("own:dish", 100.0)), food))
    assert list(again.at_least[:N]) == list(found.at_least[:N])
    sure = ~found.at_least[:N]
    assert again.totals[:N][sure] == pytest.approx(
        np.maximum(found.per_100g[:N][sure], 0), rel=1e-5, abs=1e-9
    )


def test_a_demo_like_dip_agrees_with_itself(onions):
    assert own_food_findings(food_from_recipe(weighed(onions), "own:a", "A")) == ()


def refused(recipe, key, file, others, own):
    with pytest.raises(BadInput) as caught:
        food_from_recipe(
            weighed(recipe, *own), key, "New", recipe_file=file, recipes=others, own_foods=own
        )
    return [str(problem) for problem in caught.value.problems]


def food_of(key, name, file):
    return OwnFood(key=key, name=name, recipe=file)


def test_a_recipe_that_has_itself_as_a_line_is_no_food():
    dip = recipe_of("Dip", ("own:dip", 100.0), ("salt-table", 1.0))
    old = food_of("own:dip", "My dip", "dip.toml")
    assert refused(dip, "own:dip", "dip.toml", {"dip.toml": dip}, [old]) == [
        "recipe “Dip” (dip.toml): contains itself: “Dip” (dip.toml) has “New”, made from “Dip” "
        "(dip.toml). Take one of these foods out of its recipe, or use another."
    ]


def test_a_circle_through_other_recipes_is_refused_and_the_chain_named():
    dip = recipe_of("Dip", ("own:base", 100.0))
    base = recipe_of("Base", ("garlic", 5.0), ("own:stock", 80.0))
    stock = recipe_of("Stock", ("own:dip", 10.0), ("onion-yellow", 100.0))
    own = [food_of("own:base", "Base", "base.toml"), food_of("own:stock", "Stock", "stock.toml")]
    found = refused(dip, "own:dip", "dip.toml", {"base.toml": base, "stock.toml": stock}, own)
    assert found == [
        "recipe “Dip” (dip.toml): contains itself: “Dip” (dip.toml) has “Base”, made from “Base” "
        "(base.toml); “Base” (base.toml) has “Stock”, made from “Stock” (stock.toml); “Stock” "
        "(stock.toml) has “New”, made from “Dip” (dip.toml). Take one of these foods out of its "
        "recipe, or use another."
    ]


def test_a_food_used_on_two_ways_is_no_circle():
    garlic = recipe_of("Garlic", ("garlic", 50.0))
    left = recipe_of("Left", ("own:garlic", 10.0))
    right = recipe_of("Right", ("own:garlic", 10.0))
    dip = recipe_of("Dip", ("own:left", 50.0), ("own:right", 50.0))
    files = {"g.toml": garlic, "l.toml": left, "r.toml": right, "d.toml": dip}
    own = [
        food_of("own:garlic", "Garlic", "g.toml"),
        food_of("own:left", "Left", "l.toml"),
        food_of("own:right", "Right", "r.toml"),
        food_of("own:label", "From a label", ""),
    ]
    assert list(chain_problems(files, own)) == []


def test_each_circle_of_a_set_is_told_once_and_a_long_chain_is_followed():
    count = 3000
    files = {f"{n}.toml": recipe_of(f"R{n}", (f"own:f{n + 1}", 1.0)) for n in range(count)}
    own = [food_of(f"own:f{n}", f"F{n}", f"{n}.toml") for n in range(count)]
    assert list(chain_problems(files, own, start="0.toml")) == []
    files["2999.toml"] = recipe_of("R2999", ("own:f0", 1.0))
    assert len(list(chain_problems(files, own, start="0.toml"))) == 1
    two = {
        "a.toml": recipe_of("A", ("own:b", 1.0)),
        "b.toml": recipe_of("B", ("own:a", 1.0)),
        "c.toml": recipe_of("C", ("own:c", 1.0)),
        "d.toml": recipe_of("D", ("own:a", 1.0)),
    }
    own = [food_of(f"own:{n}", n.upper(), f"{n}.toml") for n in "abcd"]
    found = [str(each) for each in chain_problems(two, own)]
    assert len(found) == 2
    assert found[0].startswith("recipe “A” (a.toml): contains itself: “A” (a.toml) has “B”")
    assert found[1].startswith("recipe “C” (c.toml): contains itself")


def test_a_recipe_may_be_made_a_food_anew():
    dip = recipe_of("Dip", ("sour-cream", 100.0))
    old = food_of("own:dip", "Dip", "dip.toml")
    food = food_from_recipe(
        weighed(dip),
        "own:dip",
        "Dip",
        recipe_file="dip.toml",
        recipes={"dip.toml": dip},
        own_foods=[old],
    )
    assert food.recipe == "dip.toml"


def test_a_key_or_name_that_will_not_do_is_refused(onions):
    with pytest.raises(BadInput, match="expected own: and small words") as caught:
        food_from_recipe(weighed(onions), "garlic", " ")
    assert len(caught.value.problems) == 2


def test_a_batch_of_nothing_is_no_food(onions):
    batch = replace(weighed(onions), grams=np.zeros(2))
    with pytest.raises(BadInput, match="weighs nothing"):
        food_from_recipe(batch, "own:a", "A")

"""What is in a dish: per batch, serving and 100 g; waste, cooking, unknown figures, scaling."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import Batch, Line, Nutrition, Recipe, nutrition_of, unknown_foods
from reformulate.foods import retention_factors
from reformulate.recipes import nutrition
from tests.recipes.plain_sums import COLUMN, FOODS, brought_by_a_gram, kept_of_a_gram
from tests.strategies import ALL_KEYS, RETENTION_CODES, recipes, water_percent, weighed

ENERGY, WATER, PROTEIN, SUGARS = (
    COLUMN[key] for key in ("energy_kcal", "water_g", "protein_g", "added_sugars_g")
)


def dish(*lines: Line, servings: float = 4.0, moisture: float = 0.0) -> Recipe:
    return Recipe(title="dish", servings=servings, moisture_loss_percent=moisture, lines=lines)


def line(food: str, grams: float, **more: object) -> Line:
    return Line(id=food, food=food, grams=grams, **more)  # type: ignore[arg-type]


def contents(*lines: Line, servings: float = 4.0, moisture: float = 0.0) -> Nutrition:
    return nutrition_of(weighed(dish(*lines, servings=servings, moisture=moisture)))


def used(batch: Batch, grams: list[float]) -> Nutrition:
    return nutrition(batch.ingredients, np.array(grams), batch.recipe.servings)


def test_a_batch_is_the_sum_of_grams_times_figures_per_100_g() -> None:
    # 198 and 59 kcal per 100 g: NDB 01056 and 01256, SR28.
    found = contents(line("sour-cream", 200.0), line("yogurt-strained-nonfat", 50.0))
    assert found.totals[ENERGY] == pytest.approx(2 * 198 + 0.5 * 59)
    assert found.finished_grams == pytest.approx(250.0)


def test_a_serving_is_the_batch_shared_out() -> None:
    found = contents(line("sour-cream", 200.0), servings=8)
    assert found.per_serving[ENERGY] == pytest.approx(2 * 198 / 8)


def test_a_hundred_grams_are_of_the_finished_dish() -> None:
    raw = contents(line("sour-cream", 200.0))
    cooked = contents(line("sour-cream", 200.0), moisture=20)
    assert raw.per_100g[ENERGY] == pytest.approx(198)
    assert cooked.finished_grams == pytest.approx(160.0)
    assert cooked.per_100g[ENERGY] == pytest.approx(198 / 0.8)


@given(recipes())
def test_every_total_equals_a_plain_sum_over_the_lines(recipe: Recipe) -> None:
    found = nutrition_of(weighed(recipe))
    for key, column in COLUMN.items():
        total = 0.0
        for item in recipe.lines:
            assert item.grams is not None
            total += brought_by_a_gram(recipe, item, item.food, key) * item.grams
        assert found.totals[column] == pytest.approx(total, rel=1e-9, abs=1e-9)
    mass = sum(
        kept_of_a_gram(recipe, item, item.food) * float(item.grams or 0) for item in recipe.lines
    )
    assert found.finished_grams == pytest.approx(mass)


@given(recipes(), st.integers(2, 10))
def test_twice_of_everything_is_twice_the_batch_and_the_same_per_100_g(
    recipe: Recipe, times: int
) -> None:
    larger = replace(
        recipe,
        lines=tuple(replace(item, grams=float(item.grams or 0) * times) for item in recipe.lines),
    )
    once, more = nutrition_of(weighed(recipe)), nutrition_of(weighed(larger))
    np.testing.assert_allclose(more.totals, times * once.totals, rtol=1e-9, atol=1e-12)
    np.testing.assert_allclose(more.per_serving, times * once.per_serving, rtol=1e-9, atol=1e-12)
    np.testing.assert_allclose(more.per_100g, once.per_100g, rtol=1e-9, atol=1e-12)
    assert more.finished_grams == pytest.approx(times * once.finished_grams)
    np.testing.assert_array_equal(more.at_least, once.at_least)


@given(recipes())
def test_the_order_of_lines_does_not_change_what_is_in_the_dish(recipe: Recipe) -> None:
    turned = replace(recipe, lines=recipe.lines[::-1])
    np.testing.assert_allclose(
        nutrition_of(weighed(turned)).totals,
        nutrition_of(weighed(recipe)).totals,
        rtol=1e-9,
        atol=1e-9,
    )


@given(recipes())
def test_energy_is_the_sum_of_the_foods_own_energies(recipe: Recipe) -> None:
    # Not 4-4-9 of the totals: each food's own energy figure counts. No food loses energy in cooking.
    total = 0.0
    for item in recipe.lines:
        food = FOODS.food(item.food)
        edible = food.edible_share if item.as_bought else 1.0
        own = float(FOODS.values[FOODS.index(item.food), ENERGY])
        total += own / 100 * edible * float(item.grams or 0)
    assert nutrition_of(weighed(recipe)).totals[ENERGY] == pytest.approx(total, rel=1e-9)


def test_energy_by_general_factors_is_a_check_beside_it() -> None:
    # Sour cream, NDB 01056, SR28: protein 2.44, fat 19.35, carbohydrate 4.63 g per 100 g.
    found = contents(line("sour-cream", 200.0))
    assert found.energy_by_general_factors == pytest.approx(2 * (4 * 2.44 + 4 * 4.63 + 9 * 19.35))
    assert found.energy_by_general_factors != pytest.approx(found.totals[ENERGY], rel=1e-3)


def test_an_amount_as_bought_counts_with_its_edible_share() -> None:
    share = FOODS.food("garlic").edible_share
    assert share == pytest.approx(0.87)  # NDB 11215, SR28: 13 % refuse
    whole, peeled = contents(line("garlic", 100.0, as_bought=True)), contents(line("garlic", 100.0))
    np.testing.assert_allclose(whole.totals, share * peeled.totals, rtol=1e-12)
    assert whole.finished_grams == pytest.approx(share * 100)
    np.testing.assert_allclose(whole.per_100g, peeled.per_100g, rtol=1e-12)


@given(recipes(plain=True), st.integers(1, 99))
def test_moisture_loss_takes_water_and_nothing_else(recipe: Recipe, of_water: int) -> None:
    percent = min(60.0, water_percent(recipe) * of_water / 100)
    raw = nutrition_of(weighed(recipe))
    cooked = nutrition_of(weighed(replace(recipe, moisture_loss_percent=percent)))
    mass = sum(float(item.grams or 0) for item in recipe.lines)
    others = np.arange(len(COLUMN)) != WATER
    of_raw, of_cooked = raw.totals[: len(COLUMN)], cooked.totals[: len(COLUMN)]
    np.testing.assert_allclose(of_cooked[others], of_raw[others], rtol=1e-12)
    assert raw.totals[WATER] - cooked.totals[WATER] == pytest.approx(mass * percent / 100)
    assert cooked.finished_grams == pytest.approx(mass * (1 - percent / 100))


def test_water_taken_up_in_cooking_is_a_negative_loss() -> None:
    soaked = contents(line("sour-cream", 100.0), moisture=-50)
    assert soaked.finished_grams == pytest.approx(150.0)
    assert soaked.totals[WATER] == pytest.approx(73.07 + 50)  # NDB 01056, SR28


@given(st.sampled_from(ALL_KEYS), st.sampled_from([c for c in RETENTION_CODES if c]))
def test_cooking_takes_the_share_of_vitamins_and_minerals_its_code_says(
    food: str, code: int
) -> None:
    raw, cooked = contents(line(food, 100.0)), contents(line(food, 100.0, retention=code))
    left = raw.totals[: len(COLUMN)] * retention_factors(code)
    np.testing.assert_allclose(cooked.totals[: len(COLUMN)], left, rtol=1e-12, atol=1e-15)
    for key in ("water_g", "energy_kcal", "protein_g", "fat_g", "carbohydrate_g"):
        assert cooked.totals[COLUMN[key]] == raw.totals[COLUMN[key]]


def test_an_unknown_figure_makes_the_total_at_least() -> None:
    unknown = "sour-cream-fat-free"  # added sugars are blank in the table
    assert not FOODS.known[FOODS.index(unknown), SUGARS]
    found = contents(line("sour-cream", 100.0), line(unknown, 50.0))
    assert found.at_least[SUGARS]
    assert not found.at_least[ENERGY]
    assert not contents(line("sour-cream", 100.0)).at_least[SUGARS]


@given(recipes(), st.data())
def test_a_total_is_at_least_exactly_where_a_food_that_is_used_is_unknown(
    recipe: Recipe, data: st.DataObject
) -> None:
    batch = weighed(recipe)
    grams = [float(item.grams or 0) * data.draw(st.booleans()) for item in recipe.lines]
    grams[0] = 100.0
    found = used(batch, grams)
    for column in range(len(COLUMN)):
        unknown = False
        for item, mass in zip(recipe.lines, grams, strict=True):
            unknown |= mass > 0 and not FOODS.known[FOODS.index(item.food), column]
        assert found.at_least[column] == unknown


def test_the_foods_of_an_unknown_figure_are_named_once() -> None:
    food = FOODS.food("sour-cream-fat-free")
    batch = weighed(
        dish(
            line("sour-cream", 100.0),
            Line(id="a", food=food.key, grams=5.0),
            Line(id="b", food=food.key, grams=6.0),
        )
    )
    assert unknown_foods(batch.ingredients, "added_sugars_g") == (food.name,)
    assert unknown_foods(batch.ingredients, "energy_kcal") == ()


def test_a_line_written_in_cups_weighs_what_its_measure_says_and_tells_the_route() -> None:
    batch = weighed(dish(Line(id="a", food="sour-cream", amount="1 cup"), line("cheddar", 30.0)))
    assert batch.grams.tolist() == [230.0, 30.0]  # 1 cup = 230 g: NDB 01056, SR28
    assert "230 g" in batch.routes[0]
    assert batch.routes[1] == "30 g as written"


def test_a_line_replaced_keeps_its_place_and_the_rest() -> None:
    recipe = dish(line("sour-cream", 100.0), line("cheddar", 30.0))
    other = recipe.with_line(replace(recipe.line("sour-cream"), grams=90.0))
    assert [item.grams for item in other.lines] == [90.0, 30.0]
    assert recipe.line("sour-cream").written == "100 g"
    with pytest.raises(KeyError):
        recipe.line("milk")

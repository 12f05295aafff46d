"""Recipes recomputed against published dishes.

Source: U.S. Department of Agriculture, Food and Nutrient Database for Dietary Studies 2017-2018;
foods from Standard Reference release 28; retention factors from release 6 of that table.
"""

from __future__ import annotations

from dataclasses import replace
from statistics import median

import pytest

from reformulate import food_table
from tests.published.dishes import (
    COLUMN,
    Dish,
    foods_here,
    revised,
    shared_dishes,
    typed_dishes,
)

ENERGY_MEDIAN, ENERGY_WORST = 0.01, 0.03

# Fraction of the published figure, and half a unit of its last digit or the second decimal that
# foods moved in between releases, whichever is more.
TOLERANCES = {
    "protein_g": (0.01, 0.05),
    "fat_g": (0.01, 0.05),
    "carbohydrate_g": (0.01, 0.05),
    "water_g": (0.01, 0.05),
    "sodium_mg": (0.03, 0.5),
    "potassium_mg": (0.01, 0.5),
    "vitamin_c_mg": (0.01, 0.05),
    "thiamin_mg": (0.03, 0.0005),
}


def energy_error(dish: Dish) -> float:
    published = dish.per_100g["energy_kcal"]
    return abs(dish.figure("energy_kcal", foods_here()) / published - 1.0)


def strays(dish: Dish) -> dict[str, tuple[float, float]]:
    """Nutrients outside their tolerance: computed and published."""
    found = {}
    for key, (relative, absolute) in TOLERANCES.items():
        published = dish.per_100g[key]
        computed = dish.figure(key, foods_here())
        if abs(computed - published) > relative * published + absolute:
            found[key] = (computed, published)
    return found


def excused(dish: Dish) -> set[str]:
    """Nutrients in which a row of the dish was revised after release 28."""
    numbers = {ndb for ndb, _, _ in dish.lines}
    return {key for ndb, key in revised() if ndb in numbers}


def need(dish: Dish) -> None:
    if missing := dish.missing(foods_here()):
        pytest.skip(f"NDB {', '.join(missing)}: in release 28 only, which is not here")


def test_at_least_thirty_dishes_are_typed_in_and_a_dozen_need_no_release() -> None:
    dishes = typed_dishes()
    assert len({dish.code for dish in dishes}) == len(dishes) >= 30
    assert sum(not dish.missing(food_table()) for dish in dishes) >= 12


@pytest.mark.parametrize("dish", typed_dishes(), ids=str)
def test_the_energy_of_a_dish_is_the_published_one(dish: Dish) -> None:
    need(dish)
    assert energy_error(dish) <= ENERGY_WORST


@pytest.mark.parametrize("dish", typed_dishes(), ids=str)
def test_the_nutrients_of_a_dish_are_the_published_ones(dish: Dish) -> None:
    need(dish)
    assert {key: pair for key, pair in strays(dish).items() if key not in excused(dish)} == {}


def test_half_of_the_dishes_are_within_one_percent_of_the_published_energy() -> None:
    errors = [energy_error(dish) for dish in typed_dishes() if not dish.missing(foods_here())]
    assert median(errors) <= ENERGY_MEDIAN


def test_the_agreement_is_owed_to_moisture_and_retention() -> None:
    porridge = next(dish for dish in typed_dishes() if dish.code == "56208500")
    need(porridge)
    raw = replace(porridge, lines=tuple((ndb, grams, 0) for ndb, grams, _ in porridge.lines))
    assert set(strays(porridge)) == set()
    assert set(strays(raw)) == {"thiamin_mg", "potassium_mg"}
    assert energy_error(raw) == energy_error(porridge)
    assert energy_error(replace(raw, moisture_change=0.0)) > 0.1


def test_every_dish_of_the_shared_data_agrees() -> None:
    dishes = shared_dishes()
    if not dishes:
        pytest.skip("the shared dishes are not here")
    assert len(dishes) == 57
    assert all(not dish.missing(foods_here()) for dish in dishes)
    errors = {dish.code: energy_error(dish) for dish in dishes}
    assert median(errors.values()) <= ENERGY_MEDIAN
    assert max(errors.values()) <= ENERGY_WORST
    assert {
        (dish.code, key): pair
        for dish in dishes
        for key, pair in strays(dish).items()
        if key not in excused(dish)
    } == {}


def test_every_stated_revision_is_needed() -> None:
    dishes = shared_dishes()
    if not dishes:
        pytest.skip("the shared dishes are not here")
    off = {(ndb, key) for dish in dishes for key in strays(dish) for ndb, _, _ in dish.lines}
    assert revised() <= off


def test_the_typed_figures_are_those_of_the_shared_data() -> None:
    published = {dish.code: dish for dish in shared_dishes()}
    if not published:
        pytest.skip("the shared dishes are not here")
    for dish in typed_dishes():
        other = published[dish.code]
        assert (dish.moisture_change, dish.lines) == (other.moisture_change, other.lines)
        assert dish.per_100g.items() <= other.per_100g.items()


def implied(code: str, ndb: str, key: str, digit: float) -> tuple[float, float]:
    """What 100 g of a row must hold for the dish to be as published, and how exactly that is known.

    The published figure is rounded to ``digit``; a line of ``share`` grams per finished gram
    magnifies that.
    """
    dish = next(dish for dish in typed_dishes() if dish.code == code)
    need(dish)
    finished = dish.computed(foods_here()).finished_grams
    share = next(grams for number, grams, _ in dish.lines if number == ndb) / finished
    foods = foods_here()
    now = float(foods.values[foods.index(f"ndb:{ndb}"), COLUMN[key]])
    gap = dish.per_100g[key] - dish.figure(key, foods)
    return now + gap / share, digit / share


@pytest.mark.parametrize(
    ("key", "digit"),
    [
        ("energy_kcal", 1.0),
        ("fat_g", 0.01),
        ("carbohydrate_g", 0.01),
        ("sodium_mg", 1.0),
        ("potassium_mg", 1.0),
        ("thiamin_mg", 0.001),
    ],
)
def test_two_slaws_imply_one_and_the_same_newer_dressing(key: str, digit: float) -> None:
    first, first_within = implied("75140510", "43016", key, digit)
    second, second_within = implied("75141100", "43016", key, digit)
    assert first == pytest.approx(second, abs=first_within + second_within)


def test_the_feta_that_the_filled_pastry_implies_is_that_of_the_next_release() -> None:
    # NDB 01019 in the release after 28: 1139 mg sodium (from memory).
    sodium, within = implied("58124210", "01019", "sodium_mg", 1.0)
    assert sodium == pytest.approx(1139.0, abs=within)

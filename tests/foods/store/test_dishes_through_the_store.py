"""Published dishes recomputed with foods that went through the importer.

Source: U.S. Department of Agriculture, Food and Nutrient Database for Dietary Studies 2017-2018;
foods from Standard Reference releases 26 and 28.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from statistics import median

import numpy as np
import pytest

from reformulate.foods import FoodTable, read_release
from reformulate.foods.store import FoodStore
from tests.foods.store.releases import imported, shared_file
from tests.published.dishes import Dish, shared_dishes

RELEASES = {"sr26": "sr26/ABBREV.txt", "sr28": "sr28/abbrev.csv"}


@pytest.fixture(scope="module", params=sorted(RELEASES))
def release(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="module")
def through_the_store(release: str, tmp_path_factory: pytest.TempPathFactory) -> FoodTable:
    """The foods of all dishes, out of a store."""
    store = tmp_path_factory.mktemp(release) / "foods.sqlite"
    imported(shared_file(RELEASES[release]).parent, store)
    with FoodStore.open(store) as opened:
        keys = {f"ndb:{ndb}" for dish in dishes() for ndb, _, _ in dish.lines}
        return opened.table(sorted(key for key in keys if key in opened))


@cache
def dishes() -> tuple[Dish, ...]:
    found = shared_dishes()
    if not found:
        pytest.skip("the shared dishes are not here")
    return found


def computable(foods: FoodTable) -> list[Dish]:
    return [dish for dish in dishes() if not dish.missing(foods)]


def test_all_dishes_of_release_28_and_most_of_release_26_can_be_computed(
    release: str, through_the_store: FoodTable
) -> None:
    assert len(computable(through_the_store)) >= {"sr26": 45, "sr28": 57}[release]


def test_the_energy_of_each_dish_is_the_published_one(
    release: str, through_the_store: FoodTable
) -> None:
    errors = {
        dish.code: abs(dish.figure("energy_kcal", through_the_store) / published - 1)
        for dish in computable(through_the_store)
        if (published := dish.per_100g["energy_kcal"])
    }
    assert median(errors.values()) <= 0.01
    # Some foods were revised between the releases.
    assert sorted(errors.values())[-1 if release == "sr28" else -5] <= 0.03, errors


def test_each_dish_is_to_the_last_digit_what_the_abbreviated_file_gives(
    release: str, through_the_store: FoodTable
) -> None:
    expected = read_release(Path(shared_file(RELEASES[release])))
    for dish in computable(through_the_store):
        ours, theirs = dish.computed(through_the_store), dish.computed(expected)
        assert np.array_equal(ours.per_100g, theirs.per_100g)
        assert np.array_equal(ours.at_least, theirs.at_least)

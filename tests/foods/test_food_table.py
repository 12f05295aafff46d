"""The food table as a value: keys, numbers, merging, loading."""

from __future__ import annotations

import inspect
from dataclasses import FrozenInstanceError

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import foods
from reformulate.errors import BadInput
from reformulate.foods import NUTRIENTS, Food, FoodTable, food_table

keys = st.lists(st.sampled_from([food.key for food in food_table()][:40]), unique=True, max_size=8)


def small_table(*names: str, ndb: str | None = None, figure: float = 1.0) -> FoodTable:
    shape = (len(names), len(NUTRIENTS))
    return FoodTable(
        foods=tuple(Food(key=name, name=name.capitalize(), ndb=ndb) for name in names),
        values=np.full(shape, figure),
        known=np.ones(shape, dtype=bool),
    )


def test_a_food_is_found_by_its_key_and_by_its_release_number() -> None:
    table = food_table()
    onion = table.index("onion-yellow")
    assert table.foods[onion].key == "onion-yellow"
    assert table.index("ndb:11282") == onion
    assert table.food("ndb:11282").source == "NDB 11282, SR28"


def test_a_release_number_may_lack_its_leading_zero() -> None:
    table = food_table()
    assert table.index("ndb:1017") == table.index("ndb:01017") == table.index("cream-cheese")


def test_a_release_number_of_two_foods_means_the_first() -> None:
    assert food_table().food("ndb:02047").key == "salt-table"


def test_every_food_is_at_its_own_row() -> None:
    table = food_table()
    assert [table.index(food.key) for food in table] == list(range(len(table)))


@pytest.mark.parametrize("key", ["onion-yellow", "ndb:11282", "ndb:1017"])
def test_keys_that_resolve_are_in_the_table(key: str) -> None:
    assert key in food_table()


@pytest.mark.parametrize("key", ["onion", "ndb:99999", "", 11282, None])
def test_keys_that_do_not_resolve_are_not_in_the_table(key: object) -> None:
    assert key not in food_table()


def test_a_mistyped_key_offers_the_near_one() -> None:
    with pytest.raises(BadInput) as caught:
        food_table().index("onion-yelow")
    (problem,) = caught.value.problems
    assert "onion-yelow" in problem.where
    assert "onion-yellow" in problem.fix


def test_an_unknown_release_number_says_where_to_get_it() -> None:
    with pytest.raises(BadInput, match="Open your download of the release"):
        food_table().food("ndb:99999")


def test_a_key_like_no_other_sends_to_the_search() -> None:
    with pytest.raises(BadInput, match="Search the food table"):
        food_table().food("qqqqqqqq")


def test_the_table_cannot_be_changed() -> None:
    table = food_table()
    with pytest.raises(ValueError, match="read-only"):
        table.values[0, 0] = 1.0
    with pytest.raises(ValueError, match="read-only"):
        table.known[0, 0] = False
    with pytest.raises(FrozenInstanceError):
        table.foods = ()  # type: ignore[misc]


def test_an_array_given_to_a_table_stays_the_callers() -> None:
    values = np.ones((1, len(NUTRIENTS)))
    table = FoodTable(
        foods=(Food(key="a", name="A"),), values=values, known=np.ones_like(values, dtype=bool)
    )
    values[0, 0] = 5.0
    assert table.values[0, 0] == 1.0


def test_an_unknown_figure_is_held_as_zero() -> None:
    known = np.ones((1, len(NUTRIENTS)), dtype=bool)
    known[0, 3] = False
    table = FoodTable(
        foods=(Food(key="a", name="A"),), values=np.full(known.shape, 9.0), known=known
    )
    assert table.values[0, 3] == 0.0
    assert table.values[0, 4] == 9.0


def test_a_matrix_of_the_wrong_shape_is_refused() -> None:
    with pytest.raises(ValueError, match="shape"):
        FoodTable(
            foods=(Food(key="a", name="A"),),
            values=np.zeros((1, 3)),
            known=np.zeros((1, 3), dtype=bool),
        )


def test_two_foods_of_one_key_are_refused() -> None:
    with pytest.raises(ValueError, match="same key"):
        small_table("a", "a")


@given(keys, keys)
def test_merging_keeps_ours_first_and_adds_only_what_is_new(
    ours: list[str], theirs: list[str]
) -> None:
    left, right = small_table(*ours, figure=1.0), small_table(*theirs, figure=2.0)
    merged = left.merged(right)
    assert [food.key for food in merged] == ours + [key for key in theirs if key not in ours]
    for key in ours:
        assert merged.values[merged.index(key), 0] == 1.0
    for key in set(theirs) - set(ours):
        assert merged.values[merged.index(key), 0] == 2.0


def test_merging_leaves_out_a_release_row_that_a_food_of_ours_carries() -> None:
    release = small_table("ndb:11282", figure=2.0)
    merged = food_table().merged(release)
    assert len(merged) == len(food_table())
    assert merged.food("ndb:11282").key == "onion-yellow"


def test_the_table_is_read_once() -> None:
    assert food_table() is food_table()


def test_all_lists_exactly_the_public_names() -> None:
    public = {
        name
        for name, value in vars(foods).items()
        if not name.startswith("_") and not inspect.ismodule(value) and name != "annotations"
    }
    assert set(foods.__all__) == public

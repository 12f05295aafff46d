"""Figures of taste and texture as they are asked for: in order, unknown or firm, with their source."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.foods import Food, food_table
from reformulate.foods.character import (
    CHARACTER,
    DERIVED,
    MEANING,
    SALT_PER_SODIUM,
    STATED,
    source_of,
    stated_character,
)
from tests.foods.character_file import ROWS


def test_a_food_of_ours_without_a_row_has_none_of_the_property_but_not_firmly() -> None:
    figures = stated_character([food_table().food("oil-olive")])
    assert figures.known.all()
    assert not figures.values.any()
    assert not figures.firm.any()


def test_a_food_from_elsewhere_is_unknown_not_zero() -> None:
    table = food_table()
    foreign = Food(key="ndb:99999", name="A food from a release")
    # Even a number that one of our foods carries: the row as opened may be of another release.
    twin = Food(key="ndb:01009", name="Cheddar from a release")
    figures = stated_character([table.food("cheddar"), foreign, twin])
    assert figures.known.tolist() == [[True] * 4, [False] * 4, [False] * 4]
    assert not figures.values[1:].any()
    assert not figures.firm[1:].any()


def test_only_published_and_computed_figures_and_the_unit_itself_are_firm() -> None:
    table = food_table()
    figures = stated_character(table.foods)
    weak = ("from memory", "common practice")
    firm = {(row["food"], row["property"]): not row["source"].startswith(weak) for row in ROWS}
    for i, food in enumerate(table):
        for j, property_ in enumerate(STATED):
            assert figures.firm[i, j] == firm.get((food.key, property_), False)
    assert figures.firm.any(axis=0).all()
    assert (~figures.firm).any(axis=0).all()


@given(st.lists(st.integers(0, len(food_table()) - 1), max_size=20))
def test_rows_come_in_the_order_asked_for(picks: list[int]) -> None:
    foods = food_table().foods
    whole, part = stated_character(foods), stated_character([foods[i] for i in picks])
    for name in ("values", "known", "firm"):
        np.testing.assert_array_equal(getattr(part, name), getattr(whole, name)[picks])


def test_every_figure_of_the_file_is_read_into_its_place() -> None:
    table = food_table()
    expected = np.zeros((len(table), len(STATED)))
    for row in ROWS:
        expected[table.index(row["food"]), STATED.index(row["property"])] = float(row["value"])
    np.testing.assert_array_equal(stated_character(table.foods).values, expected)


def test_the_source_of_a_figure_can_be_asked_for() -> None:
    assert source_of("lemon-juice", "sourness").startswith("published: Penniston 2008")
    assert source_of("garlic-powder", "pungency").startswith("common practice; 1 clove")
    assert source_of("oil-olive", "sweetness").startswith("from memory")
    assert source_of("ndb:99999", "sweetness").startswith("not stated")
    with pytest.raises(KeyError, match="saltiness"):
        source_of("lemon-juice", "saltiness")


def test_the_eight_properties_keep_their_order_and_each_says_what_it_measures() -> None:
    keys = [property_.key for property_ in CHARACTER]
    assert keys == [
        *("saltiness", "sweetness", "sourness", "savouriness"),
        *("pungency", "richness", "moisture", "body"),
    ]
    assert sorted(keys) == sorted(STATED + DERIVED) == sorted(MEANING)
    for property_ in CHARACTER:
        meaning = MEANING[property_.key]
        assert meaning[0].isupper()
        assert meaning.count(".") == 1
        assert ("milligrams" in meaning) == (property_.unit == "mg")
        assert "grams" in meaning
        assert property_.name == property_.key.capitalize()


def test_salt_per_sodium_is_that_of_their_molar_masses() -> None:
    # IUPAC standard atomic weights: Na 22.990, Cl 35.453.
    assert pytest.approx((22.990 + 35.453) / 22.990, abs=5e-5) == 1000 * SALT_PER_SODIUM


def test_no_food_at_all_gives_empty_rows() -> None:
    figures = stated_character([])
    assert figures.values.shape == figures.known.shape == figures.firm.shape == (0, len(STATED))

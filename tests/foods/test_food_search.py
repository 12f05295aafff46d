"""Finding foods as they are typed."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.foods import NUTRIENTS, Food, FoodTable, food_table, search_foods


def found(text: str, limit: int = 20) -> list[str]:
    return [food.key for food in search_foods(food_table(), text, limit)]


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("onion", "onion-yellow"),
        ("garlic", "garlic"),
        ("sour cream", "sour-cream"),
        ("cream cheese", "cream-cheese"),
        ("mayo", "mayonnaise"),
        ("milk", "milk-whole"),
        ("egg", "egg-whole"),
        ("salt", "salt-table"),
        ("pepper", "pepper-black"),
        ("tahini", "tahini"),
        ("lemon juice", "lemon-juice"),
        ("olive oil", "oil-olive"),
        ("chickpeas", "chickpeas-canned"),
        ("parsley", "parsley"),
        ("water", "water"),
    ],
)
def test_the_plain_name_brings_the_usual_food_first(typed: str, first: str) -> None:
    assert found(typed)[0] == first


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ("aubergine", "eggplant"),
        ("spring onion", "scallion"),
        ("Greek yogurt", "yogurt-strained-nonfat"),
        ("courgette", "zucchini"),
        ("coriander leaf", "cilantro"),
        ("garbanzo", "chickpeas-canned"),
        ("double cream", "cream-heavy"),
        ("rocket", "arugula"),
        ("prawns", "shrimp-cooked"),
        ("cornflour", "cornstarch"),
        ("icing sugar", "sugar-powdered"),
        ("crisps", "potato-chips"),
    ],
)
def test_words_of_either_side_of_the_ocean_are_understood(typed: str, key: str) -> None:
    assert key in found(typed)


def test_words_may_come_in_any_order_and_unfinished() -> None:
    assert found("nonf yog") == found("yog nonf")
    assert {"yogurt-nonfat", "yogurt-strained-nonfat"} <= set(found("yog nonf"))


def test_accents_and_capitals_do_not_matter() -> None:
    assert found("CREME FRAICHE") == found("crème fraîche") == ["creme-fraiche"]
    assert "onion-sauteed" in found("onion saute")


def test_a_key_is_found_as_it_is_written() -> None:
    assert found("yogurt-strained-nonfat")[0] == "yogurt-strained-nonfat"


@pytest.mark.parametrize(
    ("typed", "key"),
    [("tahinni", "tahini"), ("zuchini", "zucchini"), ("mayonaise light", "mayonnaise-light")],
)
def test_a_mistyped_word_still_finds_its_food(typed: str, key: str) -> None:
    assert key in found(typed)


def test_nonsense_finds_nothing() -> None:
    assert found("qqqqqqqqqq") == []


def test_nothing_typed_gives_the_first_foods() -> None:
    table = food_table()
    assert search_foods(table, "  ", 5) == table.foods[:5]


@given(st.data())
def test_any_beginning_of_a_name_finds_that_food(data: st.DataObject) -> None:
    table = food_table()
    food = data.draw(st.sampled_from(table.foods))
    text = food.name[: data.draw(st.integers(1, len(food.name)))]
    assert food in search_foods(table, text, len(table))


@given(st.text(max_size=30), st.integers(0, 30))
def test_any_text_is_answered_within_the_limit_and_without_repeats(text: str, limit: int) -> None:
    keys = [food.key for food in search_foods(food_table(), text, limit)]
    assert len(keys) == len(set(keys)) <= limit


def test_each_table_is_searched_in_its_own_foods() -> None:
    shape = (1, len(NUTRIENTS))
    other = FoodTable(
        foods=(Food(key="ndb:99998", name="Onion jam, invented"),),
        values=np.zeros(shape),
        known=np.zeros(shape, dtype=bool),
    )
    assert [food.key for food in search_foods(other, "onion")] == ["ndb:99998"]
    assert "ndb:99998" in [
        food.key for food in search_foods(food_table().merged(other), "onion jam")
    ]
    assert found("onion jam invented") != ["ndb:99998"]

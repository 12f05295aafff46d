"""Names written as in an index, the kind behind the food."""

from __future__ import annotations

import pytest

from reformulate.recipes.reading import read_line, split_list


@pytest.mark.parametrize(
    ("text", "food", "match", "prep"),
    [
        ("1 tbsp vinegar, balsamic", "balsamic vinegar", "balsamic vinegar", ""),
        ("vinegar, balsamic", "balsamic vinegar", "balsamic vinegar", ""),
        ("1 tbsp vinegar (balsamic)", "balsamic vinegar", "balsamic vinegar", ""),
        ("1 tbsp vinegar, red wine", "wine vinegar", "red wine vinegar", ""),
        ("1 tbsp oil, extra virgin olive", "olive oil", "extra virgin olive oil", ""),
        ("1 cup cream, heavy", "heavy cream", "heavy cream", ""),
        ("1 cup cheese, cottage, low-fat", "cottage cheese", "cottage cheese low-fat", "low-fat"),
        ("1 cup cheese, cheddar, grated", "cheddar cheese", "cheddar cheese", "grated"),
    ],
)
def test_the_kind_behind_a_comma_belongs_to_the_name(
    text: str, food: str, match: str, prep: str
) -> None:
    line = read_line(text)
    assert (line.food_text, line.match_text, line.prep) == (food, match, prep)
    assert line.foods == (food,)
    assert not line.also


@pytest.mark.parametrize(
    ("text", "food", "prep"),
    [
        ("1 onion, chopped", "onion", "chopped"),
        ("1 onion, red", "onion", "red"),
        ("1 cup cream, chilled", "cream", "chilled"),
        ("2 tomatoes, cherry-sized pieces", "tomatoes", "cherry-sized pieces"),
    ],
)
def test_preparation_behind_a_comma_stays_preparation(text: str, food: str, prep: str) -> None:
    line = read_line(text)
    assert (line.food_text, line.prep) == (food, prep)


def test_a_list_of_foods_is_no_inverted_name() -> None:
    line = read_line("sugar, coconut, butter")
    assert line.foods == ("sugar", "coconut", "butter")


def test_another_kind_after_or_is_a_choice() -> None:
    line = read_line("1 cup cheese, cottage or ricotta")
    assert line.food_text == "cottage cheese"
    assert [other.food_text for other in line.alternatives] == ["ricotta"]


def test_a_paragraph_is_not_cut_between_a_food_and_its_kind() -> None:
    text = "1 cup cheese, cottage, 2 tbsp oil, olive, 1 tsp salt, pepper"
    assert split_list(text) == (
        "1 cup cheese, cottage",
        "2 tbsp oil, olive",
        "1 tsp salt",
        "pepper",
    )

"""The food of a line, what describes it, and further foods beside it."""

from __future__ import annotations

import pytest

from reformulate.recipes.reading import About, read_line


@pytest.mark.parametrize(
    ("text", "amount", "fruit", "match"),
    [
        ("juice of 1 lemon", "1", "lemon", "lemon juice"),
        ("Juice of half a lemon", "1/2", "lemon", "lemon juice"),
        ("grated zest and juice of 2 limes", "2", "limes", "limes zest and juice"),
        ("1 lemon, juiced", "1", "lemon", "lemon juice"),
        ("1 lemon, juice of", "1", "lemon", "lemon juice"),
    ],
)
def test_the_juice_of_a_fruit_is_no_whole_fruit(
    text: str, amount: str, fruit: str, match: str
) -> None:
    line = read_line(text)
    assert (line.amount, line.juice_of, line.match_text) == (amount, fruit, match)


def test_lemon_juice_is_no_fruit() -> None:
    assert not read_line("2 tbsp lemon juice, strained").juice_of


@pytest.mark.parametrize(
    ("text", "food", "match", "prep"),
    [
        ("1 cup finely grated mild cheddar", "cheddar", "mild cheddar", "finely grated"),
        ("2 cups shredded low-fat mozzarella", "mozzarella", "low-fat mozzarella", "shredded"),
        ("1 tsp dried dill", "dill", "dried dill", ""),
        ("10 oz frozen spinach, squeezed dry", "spinach", "frozen spinach", "squeezed dry"),
        ("1 large sweet potato, peeled", "potato", "sweet potato", "peeled"),
        ("boneless, skinless chicken", "chicken", "skinless chicken boneless", "boneless"),
        ("1 can (5 oz) tuna in water, drained", "tuna", "tuna in water canned", "in water, drained"),
        ("1/2 cup sour cream (reduced fat)", "sour cream", "sour cream reduced fat", "reduced fat"),
        ("1 onion, chopped small", "onion", "onion", "chopped small"),
        ("1 cup plain strained yogurt", "plain strained yogurt", "plain strained yogurt", ""),
        ("1 cup 2% milk", "milk", "2% milk", ""),
        ("1 tbsp heavy cream", "heavy cream", "heavy cream", ""),
        ("1 cup flaxseed", "flaxseed", "flaxseed", ""),
        ("½ cup low sodium broth", "broth", "low sodium broth", ""),
    ],
)  # fmt: skip
def test_preparation_is_split_off_and_form_kept_for_matching(
    text: str, food: str, match: str, prep: str
) -> None:
    line = read_line(text)
    assert (line.food_text, line.match_text) == (food, match)
    assert line.prep == prep


def test_remarks_of_the_writer_are_a_comment() -> None:
    line = read_line("1 cup crumbled feta (I like a lot, my mother less)")
    assert (line.food_text, line.prep) == ("feta", "crumbled")
    assert line.comment == "I like a lot, my mother less"


@pytest.mark.parametrize(
    ("text", "food", "others"),
    [
        ("1 cup butter or margarine", "butter", [("1 cup", "margarine")]),
        ("1 cup tahini or 1/2 cup peanut butter", "tahini", [("1/2 cup", "peanut butter")]),
        ("1 lb beef (or turkey)", "beef", [("1 lb", "turkey")]),
        ("1 tbsp honey, or agave or molasses", "honey", [("1 tbsp", "agave"), ("1 tbsp", "molasses")]),
        ("2 tbsp vegetable or canola oil", "vegetable oil", [("2 tbsp", "canola oil")]),
        ("2 tbsp basil, chopped or 2 tsp dried basil", "basil", [("2 tsp", "basil")]),
        ("1 tbsp fresh or 1 tsp dried dill", "dill", [("1 tsp", "dill")]),
        ("fresh or frozen berries", "berries", []),
        ("1 cup tahini (or a little less)", "tahini", []),
        ("1 onion, chopped or sliced", "onion", []),
    ],
)  # fmt: skip
def test_or_gives_alternatives_with_their_own_amounts(
    text: str, food: str, others: list[tuple[str, str]]
) -> None:
    line = read_line(text)
    assert line.food_text == food
    assert [(other.amount, other.food_text) for other in line.alternatives] == others


def test_of_two_forms_the_first_is_matched_and_the_choice_said() -> None:
    line = read_line("1 cup low-fat or fat-free sour cream")
    assert line.match_text == "low-fat sour cream"
    assert any("fat-free" in remark for remark in line.remarks)


@pytest.mark.parametrize(
    ("text", "foods"),
    [
        ("salt and pepper", [("salt", ""), ("pepper", "")]),
        ("Kosher salt & black pepper to taste", [("Kosher salt", ""), ("pepper", "")]),
        ("1 tsp salt and 1/2 tsp pepper", [("salt", "1 tsp"), ("pepper", "1/2 tsp")]),
        ("1 tsp each salt and pepper", [("salt", "1 tsp"), ("pepper", "1 tsp")]),
        ("1 tsp each: cumin, paprika", [("cumin", "1 tsp"), ("paprika", "1 tsp")]),
        ("1 tsp salt and pepper", [("salt", "1 tsp"), ("pepper", "")]),
        ("macaroni and cheese", [("macaroni and cheese", "")]),
    ],
)
def test_foods_that_share_a_line_are_told_apart(text: str, foods: list[tuple[str, str]]) -> None:
    line = read_line(text)
    assert [(one.food_text, one.amount) for one in (line, *line.also)] == foods
    assert len([ask for ask in line.asks if ask.about is About.AMOUNT]) == sum(
        not amount for _, amount in foods
    )


def test_a_food_near_a_unit_in_spelling_stays_a_food() -> None:
    assert read_line("2 clover sprouts").food_text == "clover sprouts"
    assert read_line("2 rounds brie").food_text == "brie"

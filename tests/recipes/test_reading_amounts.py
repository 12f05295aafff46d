"""Amounts of ingredient lines: numbers, units, ranges, sums, and what is no amount."""

from __future__ import annotations

import pytest

from reformulate.recipes.reading import About, read_line
from tests.recipes.asked import abouts


@pytest.mark.parametrize(
    ("text", "quantity", "unit", "food", "amount"),
    [
        # numbers
        ("2 cups sour cream", 2.0, "cup", "sour cream", "2 cups"),
        ("1 1/2 cups tahini", 1.5, "cup", "tahini", "1 1/2 cups"),
        ("1-1/2 cups tahini", 1.5, "cup", "tahini", "1 1/2 cups"),
        ("1 and 1/2 cups tahini", 1.5, "cup", "tahini", "1 1/2 cups"),
        ("1½ cups tahini", 1.5, "cup", "tahini", "1 1/2 cups"),
        ("1 ½ cups tahini", 1.5, "cup", "tahini", "1 1/2 cups"),
        ("1⁄3 cup tahini", 1 / 3, "cup", "tahini", "1/3 cup"),
        ("1 1⁄3 cup tahini", 4 / 3, "cup", "tahini", "1 1/3 cups"),
        (".5 l stock", 0.5, "l", "stock", "0.5 l"),
        ("1,5 kg potatoes", 1.5, "kg", "potatoes", "1.5 kg"),
        ("0,250 kg feta", 0.25, "kg", "feta", "0.25 kg"),
        ("1,000 g flour", 1000.0, "g", "flour", "1000 g"),
        ("٣ cups yogurt", 3.0, "cup", "yogurt", "3 cups"),
        # number words
        ("one cup walnuts", 1.0, "cup", "walnuts", "1 cup"),
        ("half a cup of walnuts", 0.5, "cup", "walnuts", "1/2 cup"),
        ("two thirds cup walnuts", 2 / 3, "cup", "walnuts", "2/3 cup"),
        ("one and a half cups walnuts", 1.5, "cup", "walnuts", "1 1/2 cups"),
        ("a dozen eggs", 1.0, "", "eggs", "12"),
        ("2 dozen olives", 2.0, "", "olives", "24"),
        ("a couple of scallions", 2.0, "piece", "scallions", "2"),
        ("an onion", 1.0, "piece", "onion", "1"),
        # units
        ("2 T. butter", 2.0, "tbsp", "butter", "2 tbsp"),
        ("2 t butter", 2.0, "tsp", "butter", "2 tsp"),
        ("2 Tbs butter", 2.0, "tbsp", "butter", "2 tbsp"),
        ("2 c. milk", 2.0, "cup", "milk", "2 cups"),
        ("4 fl. oz. cream", 4.0, "fl oz", "cream", "4 fl oz"),
        ("200g feta", 200.0, "g", "feta", "200 g"),
        ("3 cloves garlic", 3.0, "clove", "garlic", "3 cloves"),
        ("3 garlic cloves", 3.0, "clove", "garlic", "3 cloves"),
        ("2 lime wedges", 2.0, "wedge", "lime", "2 wedges"),
        ("2 sticks butter", 2.0, "stick", "butter", "2 sticks"),
        ("4 sprigs thyme", 4.0, "sprig", "thyme", "4 sprigs"),
        ("1 bunch chives", 1.0, "bunch", "chives", "1 bunch"),
        ("1 head cauliflower", 1.0, "head", "cauliflower", "1 head"),
        ("2 mangoes (cartons of)", 2.0, "carton", "mangoes", "2 cartons"),
        ("1 tabelspoon tahini", 1.0, "tbsp", "tahini", "1 tbsp"),
        # where the amount stands
        ("Flour - 2 cups", 2.0, "cup", "Flour", "2 cups"),
        ("Flour: 2 cups", 2.0, "cup", "Flour", "2 cups"),
        ("Flour\t2 cups", 2.0, "cup", "Flour", "2 cups"),
        ("Flour ..... 2 cups", 2.0, "cup", "Flour", "2 cups"),
        ("salt (1 tsp)", 1.0, "tsp", "salt", "1 tsp"),
        ("Sour cream, 16 oz", 16.0, "oz", "Sour cream", "16 oz"),
        ("cream cheese 200 g, softened", 200.0, "g", "cream cheese", "200 g"),
        ("eggs 4", 4.0, "piece", "eggs", "4"),
        # marks before the line
        ("- 1 cup sour cream", 1.0, "cup", "sour cream", "1 cup"),
        ("• 1 cup sour cream", 1.0, "cup", "sour cream", "1 cup"),
        ("- [ ] 1 cup sour cream", 1.0, "cup", "sour cream", "1 cup"),
        ("3. 1 cup sour cream", 1.0, "cup", "sour cream", "1 cup"),
        ("> * 1 cup sour cream", 1.0, "cup", "sour cream", "1 cup"),
        # what is no amount
        ("1 cup 2% milk", 1.0, "cup", "milk", "1 cup"),
        ("1 lb 80% lean ground beef", 1.0, "lb", "beef", "1 lb"),
        ("12 rolls, split", 12.0, "piece", "rolls", "12"),
        ("1 tsp five spice powder", 1.0, "tsp", "five spice powder", "1 tsp"),
        ("1 onion, cut into 1-inch pieces", 1.0, "piece", "onion", "1"),
    ],
)
def test_a_line_gives_quantity_unit_food_and_an_amount_that_a_recipe_can_hold(
    text: str, quantity: float, unit: str, food: str, amount: str
) -> None:
    line = read_line(text)
    assert line.quantity == pytest.approx(quantity)
    assert (line.unit, line.food_text, line.amount) == (unit, food, amount)
    assert line.text == text
    assert not line.asks


@pytest.mark.parametrize(
    ("text", "ends", "amount"),
    [
        ("2-3 cups broth", (2.0, 3.0), "2 1/2 cups"),
        ("2 – 3 cups broth", (2.0, 3.0), "2 1/2 cups"),
        ("2 to 3 cups broth", (2.0, 3.0), "2 1/2 cups"),
        ("2 or 3 scallions", (2.0, 3.0), "2 1/2"),
        ("1 -1 1/2 lb mushrooms", (1.0, 1.5), "1 1/4 lb"),
        ("1½–2 tsp cumin", (1.5, 2.0), "1 3/4 tsp"),
        ("2 cups to 3 cups broth", (2.0, 3.0), "2 1/2 cups"),
    ],
)
def test_a_range_is_kept_and_its_middle_used_and_said(
    text: str, ends: tuple[float, float], amount: str
) -> None:
    line = read_line(text)
    assert (line.quantity, line.amount) == (ends, amount)
    assert any("middle" in remark and amount in remark for remark in line.remarks)


def test_a_range_between_two_units_is_asked_about() -> None:
    line = read_line("1 teaspoon to 1 tablespoon honey")
    assert line.food_text == "honey"
    assert [str(ask) for ask in line.asks] == ["How much, from 1 teaspoon to 1 tablespoon?"]


@pytest.mark.parametrize(
    ("text", "amount", "other"),
    [
        ("1/4 cup (60 g) tahini", "1/4 cup", "60 g"),
        ("1/4 cup/60 ml olive oil", "1/4 cup", "60 ml"),
        ("1/4 cup or 60 ml olive oil", "1/4 cup", "60 ml"),
        ("225g/8oz cream cheese", "225 g", "8 oz"),
        ("1/2 cup (1 stick) butter", "1/2 cup", "1 stick"),
        ("1 stick butter (1/2 cup)", "1 stick", "1/2 cup"),
        ("1 cup walnuts (about 4 oz)", "1 cup", "4 oz"),
    ],
)
def test_a_second_measure_of_the_same_amount_stands_beside_it(
    text: str, amount: str, other: str
) -> None:
    line = read_line(text)
    assert line.amount == amount
    assert line.other is not None
    assert line.other.amount == other
    assert line.more is None


@pytest.mark.parametrize(
    "text",
    [
        "1 tbsp plus 1 tsp olive oil",
        "1 tbsp + 1 tsp olive oil",
        "1 tbsp and 1 tsp olive oil",
        "1 tbsp olive oil (plus 1 tsp)",
        "1 tbsp olive oil, plus 1 tsp olive oil",
    ],
)
def test_a_second_amount_is_added(text: str) -> None:
    line = read_line(text)
    assert (line.amount, line.food_text) == ("1 tbsp + 1 tsp", "olive oil")
    assert line.more is not None
    assert line.more.quantity_text == "1"


def test_pounds_and_ounces_add_up() -> None:
    assert read_line("1lb 4oz mushrooms").amount == "1 lb + 4 oz"


@pytest.mark.parametrize(
    ("text", "food"),
    [
        ("salt to taste", "salt"),
        ("Pepper, to taste", "Pepper"),
        ("water as needed", "water"),
        ("salt (as desired)", "salt"),
        ("tahini", "tahini"),
        ("some parsley", "parsley"),
        ("a few sprigs thyme", "thyme"),
        ("plenty of dill", "dill"),
        ("Splash of milk", "milk"),
        ("2-inch piece of ginger", "ginger"),
        ("0 cups sugar", "sugar"),
        ("999999999 cups sugar", "sugar"),
    ],
)
def test_an_unknown_amount_is_asked_for_and_never_taken_for_nothing(text: str, food: str) -> None:
    line = read_line(text)
    assert (line.food_text, line.amount) == (food, "")
    assert About.AMOUNT in abouts(line)


def test_to_taste_beside_an_amount_leaves_the_amount() -> None:
    line = read_line("1 tbsp lemon juice, or to taste")
    assert (line.amount, line.to_taste, line.comment) == ("1 tbsp", False, "to taste")
    assert read_line("salt to taste").to_taste


@pytest.mark.parametrize("text", ["a pinch of salt", "pinch salt", "1 pinch salt", "dash of salt"])
def test_a_pinch_is_an_amount_and_marked(text: str) -> None:
    line = read_line(text)
    assert line.pinch
    assert line.amount in {"1 pinch", "1 dash"}
    assert line.food_text == "salt"


@pytest.mark.parametrize(
    ("text", "quantity", "unit", "amount"),
    [
        ("8 oz 1/3-less-fat cream cheese", 8.0, "oz", "8 oz"),
        ("1/3-less-fat cream cheese, 8 oz", 8.0, "oz", "8 oz"),
        ("1 (8 oz) tub ⅓ less fat cream cheese", 1.0, "tub", "1 tub (8 oz)"),
        ("2%-fat cottage cheese - 1 cup", 1.0, "cup", "1 cup"),
    ],
)
def test_a_share_in_the_name_of_a_food_is_no_quantity(
    text: str, quantity: float, unit: str, amount: str
) -> None:
    line = read_line(text)
    assert (line.quantity, line.unit, line.amount) == (quantity, unit, amount)
    assert "cheese" in line.food_text
    assert line.more is None
    assert line.other is None


def test_a_fraction_alone_before_less_fat_states_no_amount() -> None:
    line = read_line("1/3-less-fat cream cheese")
    assert (line.food_text, line.quantity, line.amount) == ("cream cheese", None, "")
    assert About.AMOUNT in abouts(line)
    assert read_line("2 less-sodium stock cubes").quantity == 2.0


@pytest.mark.parametrize(
    ("text", "amount", "food"),
    [
        ("small bunch of chives", "1 small bunch", "chives"),
        ("Large bunch flat-leaf parsley", "1 large bunch", "flat-leaf parsley"),
        ("big pinch of salt", "1 pinch", "salt"),
        ("couple of handfuls of spinach", "2 handfuls", "spinach"),
        ("1 decent handful of spinach", "1 handful", "spinach"),
        ("one (1) cup yogurt", "1 cup", "yogurt"),
        ("approx. 200g feta", "200 g", "feta"),
        ("c. 200 g feta", "200 g", "feta"),
        ("1 whole head of garlic", "1 head", "garlic"),
        ("Onions - 2 large", "2 large", "Onions"),
        ("eggs - 6, chopped", "6", "eggs"),
        ("Garlic x 2 cloves", "2 cloves", "Garlic"),
        ("1 cup firmly packed sugar", "1 packed cup", "sugar"),
        ("1 cup lightly packed sugar", "1 cup", "sugar"),
        ("1 sprig mint, plus 1 for garnish", "1 sprig + 1 sprig", "mint"),
    ],
)
def test_amounts_are_read_however_they_are_put(text: str, amount: str, food: str) -> None:
    line = read_line(text)
    assert (line.amount, line.food_text) == (amount, food)


@pytest.mark.parametrize("text", ["slices of bread", "handfuls of spinach", "tins tuna"])
def test_several_of_an_unknown_number_are_asked_about(text: str) -> None:
    assert [str(ask) for ask in read_line(text).asks] == [f"How many {text.split(maxsplit=1)[0]}?"]


@pytest.mark.parametrize("text", ["1 cup minus 1 tablespoon milk", "1 cup less 1 tbsp milk"])
def test_what_is_taken_off_is_asked_about_and_never_left_out(text: str) -> None:
    line = read_line(text)
    assert (line.quantity, line.unit, line.food_text, line.amount) == (1.0, "cup", "milk", "")
    assert [str(ask) for ask in line.asks] == [f"How much milk is '{text.removesuffix(' milk')}'?"]


def test_how_large_the_pieces_are_is_preparation() -> None:
    line = read_line("1 cup 1-inch pineapple chunks")
    assert (line.amount, line.food_text, line.prep) == ("1 cup", "pineapple", "1-inch")


def test_a_unit_behind_the_food_is_told_in_the_question() -> None:
    line = read_line("2 lime wheels")
    assert (line.food_text, line.unit_text) == ("lime", "wheels")
    assert [str(ask) for ask in line.asks] == ["How much lime is '2 wheels'?"]

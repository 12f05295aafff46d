"""What a recipe that cannot be weighed says: every problem at once, where, what, what to do."""

from __future__ import annotations

import math
import pickle

import pytest

from reformulate import ROLES, BadInput, Line, Recipe
from tests.strategies import weighed

GOOD = Line(id="a", food="sour-cream", grams=100.0)


def problems(*lines: Line, servings: float = 4.0, moisture: float = 0.0) -> list[str]:
    recipe = Recipe(title="t", servings=servings, moisture_loss_percent=moisture, lines=lines)
    with pytest.raises(BadInput) as caught:
        weighed(recipe)
    return [str(problem) for problem in caught.value.problems]


def test_a_food_that_is_not_there_gets_the_nearest_keys() -> None:
    assert problems(Line(id="a", food="sour-creem", grams=1.0)) == [
        "line 1 (a): food “sour-creem”: There is no food with this key. "
        "Did you mean sour-cream or sour-cream-light or sour-cream-reduced?"
    ]


def test_a_number_of_a_release_that_is_not_open_says_so() -> None:
    (told,) = problems(Line(id="a", food="ndb:99999", grams=1.0))
    assert told == (
        "line 1 (a): food “ndb:99999”: There is no food with this key. Open your download of the "
        "release that has this number, or pick another food."
    )


@pytest.mark.parametrize(
    ("amount", "told"),
    [
        ("2 cubs", "line 1 (a): amount '2 cubs': There is no unit 'cubs'. Did you mean 'cubes'?"),
        (
            "half a cup",
            "line 1 (a): amount 'half a cup': 'half a cup' has no number. "
            "Start with one, such as 2 cups or 1/2 tsp.",
        ),
        (
            "1/0 cup",
            "line 1 (a): amount '1/0 cup': A fraction cannot have 0 below the line. "
            "Check the number.",
        ),
    ],
)
def test_an_amount_that_cannot_be_read_says_why(amount: str, told: str) -> None:
    assert problems(Line(id="a", food="sour-cream", amount=amount)) == [told]


def test_a_unit_nobody_knows_gets_examples_of_units() -> None:
    (told,) = problems(Line(id="a", food="sour-cream", amount="2 blorps"))
    assert told.startswith(
        "line 1 (a): amount '2 blorps': There is no unit 'blorps'. Use one such as cup,"
    )


@pytest.mark.parametrize(
    ("grams", "shown"),
    [(0.0, "0"), (-1.5, "-1.5"), (math.nan, "nan"), (math.inf, "inf"), (2e6, "2e+06")],
)
def test_grams_have_to_be_a_positive_mass(grams: float, shown: str) -> None:
    assert problems(Line(id="a", food="sour-cream", grams=grams)) == [
        f"line 1 (a), grams: found {shown}, expected more than 0 and at most 1000000. "
        "Write the mass in grams."
    ]


@pytest.mark.parametrize(("servings", "shown"), [(0.0, "0"), (-2.0, "-2"), (math.nan, "nan")])
def test_servings_have_to_be_above_nothing(servings: float, shown: str) -> None:
    assert problems(GOOD, servings=servings) == [
        f"servings: found {shown}, expected a number above 0. Write how many the batch serves."
    ]


@pytest.mark.parametrize(("loss", "shown"), [(95.0, "95"), (-301.0, "-301"), (math.nan, "nan")])
def test_moisture_loss_has_to_leave_a_dish(loss: float, shown: str) -> None:
    assert problems(GOOD, moisture=loss) == [
        f"moisture_loss_percent: found {shown}, expected -300 or more and less than 95. "
        "Write the mass lost in cooking as a percentage of all the ingredients."
    ]


def test_a_recipe_without_lines_is_empty() -> None:
    assert problems() == ["line: the recipe has no lines. Add at least one [[line]]."]


def test_a_role_that_does_not_exist_gets_the_list_of_roles() -> None:
    assert problems(Line(id="a", food="sour-cream", grams=1.0, role="bass")) == [
        f"line 1 (a), role: found 'bass'. Expected one of: {', '.join(ROLES)}."
    ]


def test_two_lines_of_one_id_are_told_apart() -> None:
    assert problems(GOOD, Line(id="a", food="cheddar", grams=1.0)) == [
        "line 2 (a): a second line has the id 'a'. Give it another id."
    ]


def test_amount_and_grams_together_are_one_too_many() -> None:
    assert problems(Line(id="a", food="sour-cream", amount="1 cup", grams=1.0)) == [
        "line 1 (a): expected exactly one of amount and grams. Write one of the two."
    ]


def test_a_line_with_neither_amount_nor_grams_is_refused() -> None:
    told = problems(Line(id="a", food="sour-cream"))
    assert told[0] == "line 1 (a): expected exactly one of amount and grams. Write one of the two."


def test_a_retention_code_that_does_not_exist_gets_the_nearest() -> None:
    (told,) = problems(Line(id="a", food="sour-cream", grams=1.0, retention=2))
    assert told.startswith("line 1 (a): retention code 2: There is no such code in release 6. ")
    assert "1 (" in told


def test_all_problems_come_at_once() -> None:
    told = problems(
        Line(id="a", food="sour-creem", grams=-1.0, role="bass"),
        Line(id="a", food="sour-cream", amount="2 cubs"),
        servings=0,
        moisture=99,
    )
    assert [text.split(": ")[0] for text in told] == [
        "servings",
        "moisture_loss_percent",
        "line 1 (a), role",
        "line 1 (a), grams",
        "line 2 (a)",
        "line 1 (a)",
        "line 2 (a)",
    ]


def test_a_refusal_survives_a_trip_to_another_process() -> None:
    with pytest.raises(BadInput) as caught:
        weighed(Recipe(title="t", servings=0, lines=(GOOD,)))
    again = pickle.loads(pickle.dumps(caught.value))  # noqa: S301 - our own bytes
    assert again.problems == caught.value.problems
    assert str(again) == str(caught.value)


def test_cooking_drives_off_no_more_water_than_there_is() -> None:
    # 100 g of sour cream hold 73.07 g of water: NDB 01056, SR28.
    cream = Line(id="cream", food="sour-cream", grams=100.0)
    assert problems(cream, moisture=74) == [
        "moisture_loss_percent: 74 % drives off 74 g of water, and the lines hold 73 g. "
        "Weigh the finished batch and write what it lost."
    ]
    weighed(Recipe(title="t", servings=4.0, moisture_loss_percent=73.0, lines=(cream,)))

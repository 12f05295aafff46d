"""What is on offer for a line taken in: near foods only, amounts that suit it, and beside the dish."""

from __future__ import annotations

import pytest

from reformulate.measures import SYSTEMS
from reformulate.recipes.taking_in import (
    Intake,
    Question,
    Topic,
    answered,
    carried_over,
    foods_on_offer,
    open_questions,
    read_source,
    skip,
    take_in,
    with_amount,
    with_food,
    with_role,
)
from tests.recipes.taking_in_cases import FOODS, taken


def amounts_offered(intake: Intake, line: int) -> list[str]:
    question = next(
        one for one in open_questions(intake) if one.line == line and one.topic is Topic.AMOUNT
    )
    return [choice.amount for choice in question.choices if choice.amount]


def test_foods_that_share_hardly_a_word_with_the_line_are_not_offered() -> None:
    intake = taken("Serves 4\n\n1 cup hummus\n2 cups green onions dip\n")
    question = next(one for one in open_questions(intake) if one.topic is Topic.FOOD)
    offered = [choice.food for choice in question.choices if choice.food]
    assert offered == ["scallion", "bean-dip"]
    # Who opens the line's menu sees further ones.
    more = [choice.food for choice in foods_on_offer(intake.lines[1], FOODS)]
    assert more[:2] == offered
    assert len(more) > 2


@pytest.mark.parametrize(
    ("key", "written", "sizes"),
    [
        ("us", "1 can", ["1 can (15 oz)", "1 can (28 oz)"]),
        ("us", "2 tins", ["2 tins (15 oz)", "2 tins (28 oz)"]),
        ("us", "1 jar", ["1 jar (12 oz)", "1 jar (16 oz)"]),
        ("metric", "1 can", ["1 can (400 g)"]),
        ("metric", "2 jars", ["2 jars (350 g)"]),
    ],
)
def test_packs_are_offered_in_the_sizes_of_the_place(
    key: str, written: str, sizes: list[str]
) -> None:
    text = f"Serves 4\n\n1 cup hummus\n{written} salsa\n"
    (source,) = read_source(text.encode())
    offered = amounts_offered(take_in(source, FOODS, SYSTEMS[key]), 1)
    assert [amount for amount in offered if "(" in amount] == sizes


@pytest.mark.parametrize("food", ["dill", "cheddar"])
def test_a_handful_is_offered_in_cups_of_whatever_it_is(food: str) -> None:
    intake = taken(f"Serves 4\n\n1 cup hummus\n1 handful {food}\n")
    assert amounts_offered(intake, 1) == ["1/4 cup", "1/2 cup", "1 cup"]


def test_an_alternative_is_taken_with_the_amount_it_was_written_with() -> None:
    intake = taken("Serves 4\n\n1 cup hummus\n3/4 cup mayo or 1/2 cup sour cream\n")
    other = foods_on_offer(intake.lines[1], FOODS)[-1]
    asked = Question(topic=Topic.FOOD, words="Which?", line=1)
    line = answered(intake, asked, other).lines[1]
    assert (line.food, line.amount, line.grams) == ("sour-cream", "1/2 cup", 115.0)


def test_a_line_left_out_comes_back_with_an_amount_or_a_food() -> None:
    intake = skip(taken("Serves 4\n\n1 cup hummus\n2 tbsp dill\n"), 1)
    assert intake.lines[1].skipped
    assert not with_amount(intake, 1, "1 tbsp").lines[1].skipped
    assert not with_food(intake, 1, "parsley").lines[1].skipped


def test_only_what_has_no_amount_of_its_own_is_served_beside() -> None:
    text = "Serves 4\n\n1 cup hummus\n2 cups tortilla chips, for serving\ncrackers, for dipping\n"
    intake = taken(text)
    assert [line.grams is not None for line in intake.lines] == [True, True, False]
    out = skip(skip(intake, 1), 2)
    assert out.lines[1].said == ("Left out.",)
    assert out.lines[2].said == ("Served beside, not counted.",)


def test_of_equal_questions_the_earlier_line_comes_first() -> None:
    intake = taken("Bowl\nServes 4\n\n2 cups xyzzyq\n2 cups plughq\n2 cups quuxq\n")
    asked = open_questions(intake)
    assert len({question.consequence for question in asked}) == 1
    assert [question.line for question in asked] == [0, 1, 2]


def test_of_two_lines_alike_each_keeps_its_own_decisions() -> None:
    text = "Bowl\nServes 4\n\n1 cup sour cream\n1 cup sour cream\n"
    before = skip(with_role(taken(text), 0, "garnish"), 1)
    after = carried_over(before, taken(f"\n{text}"))
    assert [(line.role, line.skipped) for line in after.lines] == [
        ("garnish", False),
        (before.lines[1].role, True),
    ]

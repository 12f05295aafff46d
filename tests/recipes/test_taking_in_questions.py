"""What is asked about a recipe taken in, and what is offered as an answer."""

from __future__ import annotations

import pytest

from reformulate.errors import BadInput
from reformulate.recipes.taking_in import (
    Intake,
    Topic,
    answered,
    chosen_foods,
    open_questions,
    read_source,
    recipe_of,
    skip,
    take_in,
    with_food,
    with_title,
)
from tests.recipes.taking_in_cases import FOODS, MESSY, US, place, taken


def test_what_has_no_amount_is_asked_for_and_never_nothing() -> None:
    intake = taken(MESSY)
    assert {q.line for q in open_questions(intake) if q.topic is Topic.AMOUNT} == {
        place(intake, "salt and pepper"),
        place(intake, "salt and pepper", 1),
        place(intake, "tortilla"),
        place(intake, "handful"),
    }
    with pytest.raises(BadInput) as refused:
        recipe_of(intake)
    assert len(refused.value.problems) == len(open_questions(intake))
    assert "How much salt?" in str(refused.value)
    assert "salt and pepper to taste" in str(refused.value)


def test_questions_come_by_what_hangs_on_them() -> None:
    questions = open_questions(taken(MESSY))
    shares = [question.consequence for question in questions]
    assert shares == sorted(shares, reverse=True)
    amounts = [question.words for question in questions if question.topic is Topic.AMOUNT]
    assert amounts[0].startswith("How much salt?")
    untold = taken("1 cup white beans\n\n2 cups of mystery paste\n\na pinch of oddness\n")
    topics = [question.topic for question in open_questions(untold)]
    assert topics[0] is Topic.SERVINGS
    assert topics[-1] is Topic.TITLE


def test_salt_is_offered_as_one_percent_of_what_brings_none() -> None:
    intake = taken("Plain mash\nServes 4\n\n1 kg zucchini, grated\nsalt to taste\n")
    salt = open_questions(intake)[0]
    assert salt.choices[0].amount == "1 3/4 tsp"  # 10 g at 6 g a teaspoon, to the nearest quarter
    intake = answered(intake, salt, salt.choices[0])
    assert intake.lines[1].grams == pytest.approx(10.0, rel=0.1)


def test_less_salt_is_offered_where_the_rest_is_salty() -> None:
    plain = taken("Serves 4\n\n1 kg zucchini\nsalt to taste\n")
    salty = taken("Serves 4\n\n1/2 kg zucchini\n500 g feta\nsalt to taste\n")

    def offered(intake: Intake) -> float:
        question = next(q for q in open_questions(intake) if "salt" in q.words)
        intake = answered(intake, question, question.choices[0])
        return intake.lines[question.line].grams or 0.0

    assert offered(salty) == pytest.approx(offered(plain) / 2, rel=0.15)


def test_pepper_is_offered_by_the_mass_of_the_rest() -> None:
    intake = taken("Serves 4\n\n1 kg zucchini\nblack pepper to taste\n")
    question = next(q for q in open_questions(intake) if "pepper" in q.words)
    intake = answered(intake, question, question.choices[0])
    assert intake.lines[1].grams == pytest.approx(1.0, abs=0.3)


def test_an_unsure_food_is_asked_about_with_the_likeliest_first() -> None:
    intake = taken("Serves 4\n\n6 oz soft cheese\n1 cup sour cream\n")
    question = next(q for q in open_questions(intake) if q.topic is Topic.FOOD)
    assert "6 oz soft cheese" in question.words
    assert len(question.choices) >= 3
    assert question.choices[-1].leaves_out
    assert question.choices[0].food == intake.lines[0].food
    chosen = answered(intake, question, question.choices[1])
    assert chosen.lines[0].food == question.choices[1].food
    assert chosen.lines[0].sure
    assert len(chosen_foods(chosen)) == 1


def test_a_food_nobody_knows_is_asked_about() -> None:
    intake = taken("Serves 4\n\n1 cup sour cream\n2 cups xyzzyq\n")
    question = next(q for q in open_questions(intake) if q.topic is Topic.FOOD)
    assert question.line == 1
    assert intake.lines[1].food == ""
    with pytest.raises(BadInput, match="xyzzyq"):
        recipe_of(intake)
    assert recipe_of(with_title(skip(intake, 1), "Half")).lines[0].food == "sour-cream"


def test_a_choice_made_before_wins_and_is_not_asked_about() -> None:
    text = "Serves 4\n\n6 oz soft cheese\n1 cup sour cream\n"
    intake = taken(text)
    chosen = with_food(intake, 0, "goat-cheese-soft")
    ((words, food),) = chosen_foods(chosen)
    (source,) = read_source(text.encode())
    again = take_in(source, FOODS, US, {words: food})
    assert again.lines[0].food == "goat-cheese-soft"
    assert again.lines[0].sure


def test_an_amount_of_packs_without_a_size_is_offered_common_ones() -> None:
    intake = taken("Serves 4\n\n1 can tuna in water\n1 jar sour cream\n")
    question = next(q for q in open_questions(intake) if q.line == 1)
    assert question.words == "How much is 1 jar of sour cream?"
    sizes = [choice.amount for choice in question.choices]
    assert "1 jar (12 oz)" in sizes
    intake = answered(intake, question, question.choices[sizes.index("1 jar (12 oz)")])
    assert intake.lines[1].grams == pytest.approx(12 * 28.349523125)


def test_a_weight_of_one_or_of_all_is_asked_with_both_answers() -> None:
    intake = taken("Serves 4\n\n4 chicken breasts (6 oz)\n")
    questions = [q for q in open_questions(intake) if "one, or of all" in q.words]
    assert len(questions) == 1
    assert [choice.amount for choice in questions[0].choices[:2]] == ["6 oz", "24 oz"]


def test_the_same_amount_in_other_words_is_used_where_the_first_has_no_weight() -> None:
    intake = taken("Serves 4\n\n1 handful cilantro (20 g)\n1 cup sour cream\n")
    line = intake.lines[0]
    assert (line.amount, line.grams) == ("20 g", 20.0)
    assert "The 20 g beside it is used." in line.said


def test_servings_that_are_not_said_are_offered_by_the_mass() -> None:
    intake = taken("Bowl\n\n300 g sour cream\n300 g hummus\n")
    (question,) = open_questions(intake)
    assert question.topic is Topic.SERVINGS
    assert [choice.servings for choice in question.choices] == [20.0, 10.0]
    assert answered(intake, question, question.choices[1]).servings == 10.0

"""A recipe taken in is changed by hand: amounts, roles, lines left out, and decisions that last."""

from __future__ import annotations

import pytest

from reformulate.errors import BadInput
from reformulate.recipes import weigh_recipe
from reformulate.recipes.taking_in import (
    carried_over,
    guess_roles,
    open_questions,
    skip,
    with_amount,
    with_food,
    with_role,
    with_servings,
    with_title,
)
from reformulate.sets import demo_source, read_set
from tests.recipes.taking_in_cases import FOODS, MESSY, US, place, taken


def test_typed_amounts_are_taken_or_refused_with_a_reason() -> None:
    intake = taken("Serves 4\n\n1 cup sour cream\nsalt to taste\n")
    assert with_amount(intake, 1, "½ tsp").lines[1].amount == "1/2 tsp"
    assert with_amount(intake, 1, "5 g").lines[1].grams == 5.0
    for wrong in ("some", "3 bunches", "", "-1 cup", "1e400 g"):
        with pytest.raises(BadInput):
            with_amount(intake, 1, wrong)
    for count in (0.0, -2.0, float("nan"), float("inf"), 1e9):
        with pytest.raises(BadInput):
            with_servings(intake, count)
    with pytest.raises(BadInput):
        with_role(intake, 0, "topping")
    with pytest.raises(BadInput):
        with_food(intake, 0, "no-such-food")


def test_a_chosen_role_stays_and_others_are_guessed_anew() -> None:
    intake = with_role(taken(MESSY), 0, "body")
    assert intake.lines[0].role == "body"
    assert with_amount(intake, 1, "2 cans (15 oz)").lines[0].role == "body"
    assert intake.lines[1].role == "base"


def test_a_line_left_out_counts_for_nothing_and_can_come_back() -> None:
    intake = taken(MESSY)
    out = skip(intake, place(intake, "salt and pepper"))
    assert place(intake, "salt and pepper") not in {q.line for q in open_questions(out)}
    back = skip(out, place(intake, "salt and pepper"), skipped=False)
    assert open_questions(back) == open_questions(intake)


def test_decisions_survive_while_the_text_is_corrected() -> None:
    before = with_servings(with_title(taken(MESSY), "Bean dip"), 8)
    salt = place(before, "salt and pepper")
    before = with_amount(before, salt, "1/4 tsp")
    before = with_food(before, place(before, "mayo"), "sour-cream")
    before = with_role(before, place(before, "cheddar"), "flavouring")
    before = skip(before, place(before, "tortilla"))
    text = MESSY.replace("- a handful of cilantro\n", "").replace("1½ c.", "2 c.")
    after = carried_over(before, taken("\n" + text))
    assert (after.title, after.servings) == ("Bean dip", 8.0)
    assert after.lines[place(after, "salt and pepper")].amount == "1/4 tsp"
    assert after.lines[place(after, "mayo")].food == "sour-cream"
    cheddar = after.lines[place(after, "cheddar")]
    assert (cheddar.role, cheddar.amount) == ("flavouring", "2 cups")
    assert after.lines[place(after, "tortilla")].skipped
    other = carried_over(before, taken("Other\nServes 2\n\n1 cup hummus\n"))
    assert (other.title, other.servings) == ("Other", 2.0)


def test_roles_agree_with_those_people_gave_the_demo_recipes() -> None:
    same = count = 0
    for document in read_set(demo_source()).documents:
        batch = weigh_recipe(document.recipe, FOODS, US)
        foods = [item.food for item in batch.ingredients]
        guessed = guess_roles(foods, list(batch.grams))
        assert "base" in guessed
        same += sum(g == line.role for g, line in zip(guessed, document.recipe.lines, strict=True))
        count += len(guessed)
    # What is a garnish, and which of two soft cheeses is the base, only the cook knows.
    assert same / count >= 0.8


def test_a_garnish_is_one_where_the_line_says_so() -> None:
    foods = [FOODS.food("hummus"), FOODS.food("parsley"), FOODS.food("parsley")]
    texts = ["1 cup hummus", "1 tbsp parsley", "1 tbsp parsley, to garnish"]
    assert guess_roles(foods, [240, 4, 4], texts) == ("base", "flavouring", "garnish")


def test_an_intake_is_a_value() -> None:
    intake = taken(MESSY)
    assert taken(MESSY) == intake
    changed = with_title(with_amount(skip(intake, 0), 1, "2 cans (15 oz)"), "New")
    assert (changed.title, changed.lines[0].skipped) == ("New", True)
    assert taken(MESSY) == intake

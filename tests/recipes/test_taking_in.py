from __future__ import annotations

import re
import string
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.errors import BadInput, FileProblem
from reformulate.foods import food_table
from reformulate.measures import SYSTEMS
from reformulate.recipes import ROLES, weigh_recipe
from reformulate.recipes.taking_in import (
    Intake,
    Topic,
    answered,
    as_text,
    carried_over,
    chosen_foods,
    document_name,
    foods_on_offer,
    guess_roles,
    open_questions,
    read_source,
    recipe_of,
    skip,
    summary_of,
    take_in,
    with_amount,
    with_food,
    with_role,
    with_servings,
    with_title,
)
from reformulate.sets import demo_source, read_set

FOODS, US = food_table(), SYSTEMS["us"]

MESSY = """From: Odile
Subject: that dip!!

Odile's Cheesy Bean & Chile Dip  (serves 10-12)

You'll need:
- 2 (8 oz) pkgs cream cheese, softened
- 1 x 15oz can black beans, drained and rinsed
• 1½ c. shredded sharp cheddar, divided
- 3/4 cup mayo or sour cream
- 1-2 jalapenos, seeded + finely chopped
- a handful of cilantro
- juice of 1 lime
- 1 Tbsp plus 1 tsp olive oil
- 2 cloves garlic (minced)
- 1/2 tsp cumin (optional)
- salt and pepper to taste
- tortilla chips, for serving

Beat the cream cheese with the mayo. Fold in the rest.
Bake at 375F for 25 mins until bubbly.
"""
"""Invented for this test."""


def taken(text: str, **remembered: str) -> Intake:
    (source,) = read_source(text.encode())
    words = {name.replace("_", " "): food for name, food in remembered.items()}
    return take_in(source, FOODS, US, words)


def place(intake: Intake, words: str, part: int = 0) -> int:
    return next(
        i for i, line in enumerate(intake.lines) if words in line.read.text and line.part == part
    )


def settled(intake: Intake) -> Intake:
    """Take the first answer to every question."""
    while questions := open_questions(intake):
        first = questions[0]
        if first.choices:
            intake = answered(intake, first, first.choices[0])
        elif first.topic is Topic.SERVINGS:
            intake = with_servings(intake, 4)
        else:
            assert first.topic is Topic.TITLE
            intake = with_title(intake, "A title")
    return intake


def test_a_messy_recipe_is_read_line_by_line_and_every_further_food_is_a_line() -> None:
    intake = taken(MESSY)
    assert intake.title == "Odile's Cheesy Bean & Chile Dip"
    assert intake.servings == 11
    assert len(intake.steps) == 2
    assert [line.food for line in intake.lines] == [
        "cream-cheese",
        "beans-black-canned",
        "cheddar",
        "mayonnaise",
        "jalapeno",
        "cilantro",
        "lime-juice",
        "oil-olive",
        "garlic",
        "cumin",
        "salt-table",
        "pepper-black",
        "tortilla-chips",
    ]
    assert all(line.read.text in MESSY for line in intake.lines)
    salt, pepper = intake.lines[10:12]
    assert salt.read.text == pepper.read.text
    assert (salt.part, pepper.part) == (0, 1)
    assert intake.lines[0].grams == pytest.approx(453.6)  # 16 oz, by definition


def test_ranges_alternatives_and_options_are_kept_and_said() -> None:
    intake = taken(MESSY)
    chile = intake.lines[place(intake, "jalapenos")]
    assert chile.read.quantity == (1.0, 2.0)
    assert chile.amount == "1 1/2"
    assert any("middle" in words for words in chile.said)
    mayo = intake.lines[place(intake, "mayo")]
    assert "Mayo is used, not sour cream." in mayo.said
    offers = foods_on_offer(mayo, FOODS)
    other = next(choice for choice in offers if "sour cream" in choice.words)
    assert other.food == "sour-cream"
    assert other.amount == "3/4 cup"
    cumin = intake.lines[place(intake, "cumin")]
    assert any("optional" in words for words in cumin.said)
    assert not cumin.skipped
    assert any("10-12" in note and "11" in note for note in intake.notes)


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


def test_what_is_served_beside_is_one_click_and_stays_with_the_recipe() -> None:
    intake = taken(MESSY)
    question = next(q for q in open_questions(intake) if "chips" in q.words)
    assert question.choices[0].words == "Serve it beside, not counted"
    intake = settled(answered(intake, question, question.choices[0]))
    recipe = recipe_of(intake)
    assert recipe.serve_with == ("tortilla chips",)
    assert "tortilla-chips" not in {line.food for line in recipe.lines}


def test_a_settled_intake_is_a_recipe_that_weighs_what_was_shown() -> None:
    intake = settled(taken(MESSY))
    recipe = recipe_of(intake)
    batch = weigh_recipe(recipe, FOODS, US)
    assert list(batch.grams) == pytest.approx([line.grams for line in intake.counted])
    assert recipe.servings == 11
    assert recipe.steps == intake.steps
    assert [line.text for line in recipe.lines][2] == "• 1½ c. shredded sharp cheddar, divided"
    assert recipe.lines[8].prep == "minced"
    assert {line.role for line in recipe.lines} <= set(ROLES)
    energy = sum(
        float(grams) * FOODS.values[FOODS.index(line.food), 1] / 100
        for line, grams in zip(recipe.lines, batch.grams, strict=True)
    )
    assert f"{energy / 11:.0f} kcal" in summary_of(intake)


def test_lines_of_one_food_have_names_of_their_own() -> None:
    intake = settled(taken("Twice\nServes 2\n\n1 cup sour cream\n2 tbsp sour cream\n1 tbsp dill\n"))
    ids = [line.id for line in recipe_of(intake).lines]
    assert ids == ["sour-cream", "sour-cream-2", "dill"]


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


def test_servings_that_are_not_said_are_offered_by_the_mass() -> None:
    intake = taken("Bowl\n\n300 g sour cream\n300 g hummus\n")
    (question,) = open_questions(intake)
    assert question.topic is Topic.SERVINGS
    assert [choice.servings for choice in question.choices] == [20.0, 10.0]
    assert answered(intake, question, question.choices[1]).servings == 10.0


def test_headings_and_what_was_left_out_are_noted() -> None:
    intake = taken(
        "Layered\nServes 8\n\nIngredients\nFor the base:\n1 cup hummus\nFor the top:\n1 cup feta\n"
    )
    assert any("For the base" in note and "For the top" in note for note in intake.notes)
    assert [line.food for line in intake.lines] == ["hummus", "feta"]
    assert any("From: Odile" in note for note in taken(MESSY).notes)


PAGE = """<html><script type="application/ld+json">{"@type": "Recipe", "name": "Herb bowl",
"recipeYield": "6 servings", "recipeIngredient": ["2 cups plain yogurt", "1/4 cup dill"],
"recipeInstructions": "Stir.", "nutrition": {"@type": "NutritionInformation",
"calories": "60 kcal", "sodiumContent": "0.1 g"}}</script></html>"""


def test_a_page_brings_its_claims_and_can_be_corrected_as_text() -> None:
    (source,) = read_source(PAGE.encode(), "saved.html")
    intake = take_in(source, FOODS, US)
    assert dict(recipe_of(intake).claims) == {"energy_kcal": 60.0, "sodium_mg": pytest.approx(100)}
    (again,) = read_source(as_text(source).encode())
    assert (again.title, again.servings) == ("Herb bowl", 6.0)
    assert [line.text for line in again.lines] == ["2 cups plain yogurt", "1/4 cup dill"]
    assert again.steps == ("Stir.",)


def test_a_list_with_boxes_is_no_json() -> None:
    (source,) = read_source(b"[ ] 1 cup hummus\n[x] 2 tbsp dill\n")
    assert [line.food_text for line in source.lines] == ["hummus", "dill"]
    assert not any("page" in note for note in source.notes)


@pytest.mark.parametrize("codec", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_texts_in_other_encodings_are_read(codec: str) -> None:
    (source,) = read_source("Soirée\nServes 4\n\n½ cup crème fraîche\n".encode(codec))
    assert source.title == "Soirée"
    assert source.lines[0].quantity == 0.5


def test_bare_lines_are_ingredients_even_if_they_end_as_headings_do() -> None:
    (source,) = read_source(b"1 cup hummus\r\n\r\nsalt:\rdill", lines_only=True)
    assert [line.food_text for line in source.lines] == ["hummus", "salt", "dill"]
    assert [line.text for line in source.lines] == ["1 cup hummus", "salt:", "dill"]


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused_in_words(data: bytes) -> None:
    for name in ("", "a.html", "a.json"):
        try:
            found = read_source(data, name)
        except FileProblem:
            continue
        for source in found:
            intake = take_in(source, FOODS, US)
            assert summary_of(intake)


WORDS = st.sampled_from(
    [
        *("1", "2", "½", "1/4", "1-2", "cup", "cups", "tbsp", "tsp", "can", "oz", "g", "handful"),
        *("pinch", "sour", "cream", "salt", "pepper", "hummus", "feta", "dill", "mayo", "beans"),
        *("or", "and", "plus", "each", "black", "canned", ",", "(", ")", "to", "taste", "for"),
        *("serving", "optional", "juice", "of", "lemon"),
    ]
)


@given(st.lists(st.lists(WORDS, min_size=1, max_size=8).map(" ".join), min_size=1, max_size=6))
def test_every_counted_line_is_weighed_or_asked_about(rows: list[str]) -> None:
    (source,) = read_source("\n".join(rows).encode(), lines_only=True)
    intake = take_in(source, FOODS, US)
    for line in intake.counted:
        assert line.questions or (line.food and line.grams and line.grams > 0)
        assert line.read.text in rows
    open_now = open_questions(intake)
    assert {q.line for q in open_now if q.line >= 0} == {
        i for i, line in enumerate(intake.lines) if not line.sure
    }
    done = settled(intake)
    if done.counted:
        batch = weigh_recipe(recipe_of(done), FOODS, US)
        assert (batch.grams > 0).all()


@given(st.text(max_size=200), st.sets(st.text(string.ascii_lowercase, max_size=3), max_size=5))
def test_a_files_name_is_plain_free_and_short(title: str, others: set[str]) -> None:
    taken_names = {f"{name}.TOML" for name in others}
    name = document_name(title, taken_names)
    assert re.fullmatch(r"[a-z0-9]+(?:-[a-z0-9]+)*\.toml", name)
    assert len(name) <= 70
    assert name != "set.toml"
    assert name.casefold() not in {other.casefold() for other in taken_names}
    assert document_name(title, {*taken_names, name}) != name


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
    assert with_title(intake, "New").title == "New"
    assert intake.title != "New"
    assert replace(intake) == intake

"""A text is taken in: each line read, what it may mean kept and said, and a recipe made of it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.recipes import ROLES, weigh_recipe
from reformulate.recipes.taking_in import (
    answered,
    foods_on_offer,
    open_questions,
    read_source,
    recipe_of,
    summary_of,
    take_in,
)
from tests.recipes.taking_in_cases import FOODS, MESSY, US, place, settled, taken


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


def test_headings_and_what_was_left_out_are_noted() -> None:
    intake = taken(
        "Layered\nServes 8\n\nIngredients\nFor the base:\n1 cup hummus\nFor the top:\n1 cup feta\n"
    )
    assert any("For the base" in note and "For the top" in note for note in intake.notes)
    assert [line.food for line in intake.lines] == ["hummus", "feta"]
    assert any("From: Odile" in note for note in taken(MESSY).notes)


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

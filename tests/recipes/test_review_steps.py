"""Foods of the steps against foods of the list, in review; salt and oil that the list leaves open."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reformulate.recipes.review import Kind
from tests.recipes.review_cases import BEANS, CRAB, of, with_text
from tests.recipes.test_review_clean import findings


def test_a_recipe_without_steps_says_nothing_about_its_list() -> None:
    assert findings(replace(BEANS, steps=())) == ()


def test_steps_that_name_no_food_use_them_all() -> None:
    assert findings(replace(BEANS, steps=("Blend until smooth.", "Chill and serve."))) == ()


@pytest.mark.parametrize(
    "said",
    [
        "Serve with olives, cheese and crackers.",
        "It should be as thick as yogurt.",
        "Butter a small dish.",
        "Use a garlic press or a cheese grater.",
        "Swap in black beans if you like.",
        "Keep the bowl in an ice bath.",
        "Leave out the cream.",
    ],
)
def test_a_food_that_is_named_and_not_added_is_no_finding(said: str) -> None:
    assert findings(replace(BEANS, steps=(*BEANS.steps, said))) == ()


@pytest.mark.parametrize(
    ("said", "named"),
    [
        ("Stir in the tahini.", "tahini"),
        ("Fold in 2 tbsp capers.", "caper"),
        ("Top with feta and olives.", "feta"),
        ("Beat in the sour cream.", "sour cream"),
        ("Add the roasted peppers.", "pepper"),
    ],
)
def test_a_food_that_is_added_and_not_listed_is_found(said: str, named: str) -> None:
    found = of(Kind.UNLISTED, findings(replace(BEANS, steps=(*BEANS.steps, said))))
    assert {finding.where for finding in found} == {f"step {len(BEANS.steps) + 1}"}
    assert any(named in finding.what for finding in found)


def test_an_amount_in_the_step_is_offered_for_the_list() -> None:
    recipe = replace(BEANS, steps=(*BEANS.steps, "Fold in 2 tbsp capers."))
    (finding,) = findings(recipe)
    assert finding.fix is not None
    added = finding.fix.apply(recipe).lines[-1]
    assert (added.food, added.amount) == ("capers", "2 tbsp")
    assert findings(finding.fix.apply(recipe)) == ()


def test_seasoning_to_taste_without_salt_in_the_list_is_perhaps_salt() -> None:
    lines = tuple(line for line in CRAB.lines if line.role != "salt")
    recipe = replace(CRAB, lines=lines, steps=(*CRAB.steps, "Season to taste."))
    (finding,) = findings(recipe)
    assert (finding.kind, finding.sureness) == (Kind.SALT, "perhaps")
    assert "sodium" in finding.what


def test_extra_virgin_oil_is_no_extra_oil() -> None:
    recipe = with_text(BEANS, "oil-olive", "1/4 cup extra virgin olive oil")
    recipe = replace(recipe, steps=(*recipe.steps, "Trickle with the extra virgin olive oil."))
    assert findings(recipe) == ()


def test_oil_if_needed_says_what_a_spoonful_brings() -> None:
    recipe = with_text(BEANS, "oil-olive", "1/4 cup olive oil, plus more if needed")
    (finding,) = findings(recipe)
    assert finding.kind is Kind.OIL
    assert "12 kcal a serving" in finding.why
    assert finding.fix is not None
    assert finding.fix.apply(recipe).line("oil-olive").amount == "1/4 cup + 1 tbsp"

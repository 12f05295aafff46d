"""Foods of the steps against foods of the list, in review; salt and oil that the list leaves open."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from reformulate import nutrition_of
from reformulate.foods.nutrients import INDEX
from reformulate.recipes.review import Kind
from tests.recipes.planting import weighed
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


def test_the_sodium_that_listing_salt_is_said_to_bring_is_what_it_brings() -> None:
    lines = tuple(line for line in BEANS.lines if line.role != "salt")
    recipe = replace(BEANS, lines=lines, steps=(*BEANS.steps, "Add salt to taste."))
    (finding,) = of(Kind.SALT, findings(recipe))
    assert finding.fix is not None
    column = INDEX["sodium_mg"]
    before, after = (
        float(nutrition_of(weighed(one)).per_serving[column])
        for one in (recipe, finding.fix.apply(recipe))
    )
    said = re.search(r"\((\d+) mg of sodium a serving\)", finding.fix.words)
    assert said is not None
    assert float(said[1]) == pytest.approx(after - before, abs=1.0)
    quarter = re.search(r"each 1/4 tsp would be (\d+) mg", finding.what)
    assert quarter is not None
    assert float(quarter[1]) == pytest.approx((after - before) / 2, abs=1.0)  # of 1/2 tsp


def test_advice_seasons_nothing() -> None:
    lines = tuple(line for line in CRAB.lines if line.role != "salt")
    for said, kinds in (
        ("Season to taste.", [Kind.SALT]),
        ("Food safety: season to taste before anyone has dipped.", []),
    ):
        recipe = replace(CRAB, lines=lines, steps=(*CRAB.steps, said))
        assert [finding.kind for finding in findings(recipe)] == kinds

"""Claims in review: true ones pass, wrong ones say how, and what they may have been meant as."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reformulate import Line, Recipe, nutrition_of
from reformulate.foods.nutrients import INDEX
from reformulate.recipes.review import Kind
from tests.recipes.planting import true_claims, weighed
from tests.recipes.review_cases import BEANS, CRAB, of
from tests.recipes.test_review_clean import DEMO, FOODS, findings


def test_true_claims_and_their_label_rounding_give_no_finding() -> None:
    for recipe in DEMO:
        claims = true_claims(recipe)
        rounded = {key: float(5 * round(value / 5)) for key, value in claims.items() if value > 50}
        assert findings(recipe, claims=claims) == ()
        assert findings(recipe, claims={**claims, **rounded}) == ()


def test_a_wrong_claim_says_which_side_it_errs_on() -> None:
    claims = {
        "sodium_mg": 2 * true_claims(CRAB)["sodium_mg"],
        "fat_g": true_claims(CRAB)["fat_g"] / 2,
    }
    found = {finding.what for finding in findings(CRAB, claims=claims)}
    assert any(what.startswith("Sodium") and "is 100 % too high" in what for what in found)
    assert any(what.startswith("Fat") and "is 50 % too low" in what for what in found)


def test_a_claim_of_what_the_dish_has_none_of_is_too_high_by_no_share() -> None:
    oil = Line(id="a", food="oil-olive", grams=100.0)
    recipe = Recipe(title="Dip", servings=4.0, lines=(oil,))
    (finding,) = of(Kind.CLAIM, findings(recipe, claims={"fibre_g": 3.0}))
    assert "the printed figure is too high." in finding.what


def test_claims_of_the_recipe_itself_are_reviewed_and_can_be_left_out() -> None:
    wrong = replace(CRAB, claims=(("fat_g", true_claims(CRAB)["fat_g"] * 3),))
    (finding,) = findings(wrong)
    assert finding.fix is not None
    assert finding.fix.apply(wrong).claims == ()


def test_an_unknown_figure_is_no_proof_that_a_claim_is_too_high() -> None:
    rows = [
        food for food in FOODS if not FOODS.known[FOODS.index(food.key), INDEX["added_sugars_g"]]
    ]
    lines = (Line(id="a", food=rows[0].key, grams=100.0), Line(id="b", food="honey", grams=5.0))
    recipe = Recipe(title="Dip", servings=2.0, lines=lines)
    assert nutrition_of(weighed(recipe)).at_least[INDEX["added_sugars_g"]]
    assert of(Kind.CLAIM, findings(recipe, claims={"added_sugars_g": 50.0})) == []
    assert of(Kind.CLAIM, findings(recipe, claims={"added_sugars_g": 0.2})) != []


def test_figures_of_100_grams_are_told_as_such() -> None:
    per_100 = nutrition_of(weighed(BEANS)).per_100g
    claims = {key: float(per_100[INDEX[key]]) for key in ("energy_kcal", "fat_g", "sodium_mg")}
    (finding,) = findings(BEANS, claims=claims)
    assert "for 100 g" in finding.what


def test_figures_of_the_whole_batch_are_told_as_such() -> None:
    claims = {key: value * CRAB.servings for key, value in true_claims(CRAB).items()}
    (finding,) = findings(CRAB, claims=claims)
    assert "10 times" in finding.what
    assert finding.what.endswith("as if they were for the whole batch.")
    assert finding.fix is None


@pytest.mark.parametrize(("factor", "sureness"), [(1.35, "likely"), (3.3, "sure")])
def test_the_further_off_a_claim_the_surer(factor: float, sureness: str) -> None:
    (finding,) = findings(CRAB, claims={"fat_g": true_claims(CRAB)["fat_g"] * factor})
    assert finding.sureness == sureness


def test_kilojoules_that_pass_for_kilocalories_are_told() -> None:
    claims = {"energy_kcal": true_claims(CRAB)["energy_kcal"] * 4.184}
    (finding,) = findings(CRAB, claims=claims)
    assert "kilojoules" in finding.what


def test_the_fix_for_other_servings_makes_the_claims_true() -> None:
    claims = tuple((key, value / 2) for key, value in true_claims(CRAB).items())
    recipe = replace(CRAB, claims=claims)
    (finding,) = of(Kind.CLAIM, findings(recipe))
    assert finding.fix is not None
    assert finding.fix.apply(recipe).servings == 20.0
    assert findings(finding.fix.apply(recipe)) == ()

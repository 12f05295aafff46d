"""The review: what a finding says, what its fix does, and that it never fails."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import SYSTEMS, Line, Recipe, nutrition_of, weigh_recipe
from reformulate.errors import BadInput
from reformulate.foods.nutrients import INDEX, NUTRIENTS
from reformulate.measures.words import Kind as UnitKind
from reformulate.measures.words import kind_of
from reformulate.recipes.review import LIKELY, SURE, Finding, Kind, review
from tests.recipes.test_review_clean import DEMO, FOODS, findings
from tests.recipes.test_review_seeded import (
    PLANTS,
    Plant,
    Planted,
    is_found,
    reviewed,
    true_claims,
    variants,
    weighed,
)
from tests.strategies import recipes

US = SYSTEMS["us"]
BEANS = next(recipe for recipe in DEMO if recipe.title.startswith("White bean"))
CRAB = next(recipe for recipe in DEMO if recipe.title.startswith("Baked crab"))


def of(kind: Kind, found: tuple[Finding, ...]) -> list[Finding]:
    return [finding for finding in found if finding.kind is kind]


def with_text(recipe: Recipe, line_id: str, text: str) -> Recipe:
    return recipe.with_line(replace(recipe.line(line_id), text=text))


def in_the_recipe(planted: Planted) -> Recipe:
    """Carry the texts and claims of a plant in the recipe itself, as one that was taken in does."""
    recipe = planted.recipe
    for line_id, text in planted.texts.items():
        if any(line.id == line_id for line in recipe.lines):
            recipe = with_text(recipe, line_id, text)
    return replace(recipe, claims=tuple(planted.claims.items()))


every_plant = pytest.mark.parametrize("plant", PLANTS, ids=lambda plant: plant.__name__)


@every_plant
def test_a_fix_takes_its_finding_away_and_leaves_a_recipe_that_can_be_weighed(plant: Plant) -> None:
    for planted in variants(plant, seed=3)[:10]:
        recipe = in_the_recipe(planted)
        for finding in findings(recipe):
            if finding.fix is None:
                continue
            mended = finding.fix.apply(recipe)
            assert mended != recipe, finding.fix.words
            left = findings(mended)
            assert (finding.kind, finding.where) not in {
                (one.kind, one.where) for one in left if one.what == finding.what
            }


@every_plant
def test_a_fix_is_pure_and_harmless_to_a_recipe_that_has_changed(plant: Plant) -> None:
    other = replace(CRAB, lines=(Line(id="only", food="cream-cheese", grams=200.0),))
    for planted in variants(plant, seed=4)[:5]:
        recipe = in_the_recipe(planted)
        for finding in findings(recipe):
            if finding.fix is not None:
                before = repr(recipe)
                assert finding.fix.apply(recipe) == finding.fix.apply(recipe)
                assert repr(recipe) == before
                weighed(finding.fix.apply(other))


@every_plant
def test_a_finding_says_where_what_and_why(plant: Plant) -> None:
    for planted in variants(plant, seed=5)[:10]:
        places = {line.id for line in planted.recipe.lines} | {""} | set(planted.texts)
        steps = {f"step {number + 1}" for number in range(len(planted.recipe.steps))}
        for finding in reviewed(planted):
            assert finding.where in places | steps
            assert finding.what.endswith(".")
            assert finding.why.endswith(".")
            assert "  " not in f"{finding.what} {finding.why}"
            assert 0 < finding.confidence <= 1
            assert 0 < finding.gravity <= 1
            assert finding.fix is None or finding.fix.words


def test_findings_come_most_serious_first() -> None:
    recipe = replace(BEANS, servings=400.0, moisture_loss_percent=3.0)
    recipe = with_text(recipe, "oil-olive", "1/4 cup (108 g) olive oil, plus more if needed")
    found = findings(recipe)
    weights = [finding.weight for finding in found]
    assert len({finding.kind for finding in found}) >= 3
    assert weights == sorted(weights, reverse=True)


def test_confidence_has_a_word_for_each_range() -> None:
    def word(confidence: float) -> str:
        return Finding(
            kind=Kind.UNIT, where="", what="", why="", confidence=confidence, gravity=1.0
        ).sureness

    assert [word(SURE), word(SURE - 0.01), word(LIKELY), word(LIKELY - 0.01)] == [
        "sure",
        "likely",
        "likely",
        "perhaps",
    ]


@given(recipes(), st.data())
def test_a_review_never_fails_whatever_the_foods_texts_and_claims(
    recipe: Recipe, data: st.DataObject
) -> None:
    text = st.text(max_size=60) | st.sampled_from(
        [
            "2 cups (100 g) salt, plus more",
            "1 (15 oz/425 g) can beans, undrained",
            "oil as needed",
            "(",
        ]
    )
    keys = st.sampled_from([line.id for line in recipe.lines] + ["other", ""])
    steps = tuple(data.draw(st.lists(text, max_size=4)))
    nutrients = st.sampled_from([kind.key for kind in NUTRIENTS] + ["nothing"])
    found = review(
        weigh_recipe(replace(recipe, steps=steps), FOODS, US),
        FOODS,
        US,
        texts=data.draw(st.dictionaries(keys, text, max_size=4)),
        claims=data.draw(st.dictionaries(nutrients, st.floats(), max_size=5)),
    )
    assert found == tuple(sorted(found, key=lambda one: -one.weight))


def test_very_long_steps_and_texts_are_read_in_part() -> None:
    steps = ("or butter the " * 200_000, "serve with " * 200_000, "½ cup oil, more oil " * 100_000)
    found = findings(
        replace(BEANS, steps=steps), texts={"oil-olive": "1/4 cup (" * 200_000, "no": "x" * 10**6}
    )
    assert all(len(str(finding)) < 1000 for finding in found)


# What a line says in two ways


@pytest.mark.parametrize(
    ("line", "text", "agrees"),
    [
        ("cream-cheese", "1 pack (8 oz/225 g) cream cheese", True),
        ("cream-cheese", "1 pack (8 oz/325 g) cream cheese", False),
        ("crab-cooked", "12 oz (340 g) crab", True),
        ("crab-cooked", "12 oz (400 g) crab", False),
        ("sour-cream", "1/2 cup (120 g) sour cream", True),
        ("sour-cream", "1/2 cup (125 ml) sour cream", True),
        ("sour-cream", "1/2 cup (250 ml) sour cream", False),
        ("sour-cream", "1/2 cup (150 g) sour cream", False),
        ("garlic", "1 clove garlic (4 g)", True),
        ("garlic", "1 clove garlic (12 g)", False),
        ("scallion", "25 g (1/4 cup) chopped scallion", True),
        ("scallion", "75 g (1/4 cup) chopped scallion", False),
    ],
)
def test_two_amounts_agree_within_the_tolerance_of_their_kind(
    line: str, text: str, agrees: bool
) -> None:
    found = findings(with_text(CRAB, line, text))
    assert (found == ()) is agrees
    if not agrees:
        assert {finding.where for finding in found} == {line}
        assert "is let pass" in found[0].why


def test_an_amount_and_grams_on_one_line_are_compared_too() -> None:
    batch = weighed(CRAB)
    both = replace(CRAB.line("mayonnaise"), grams=110.0)
    (finding,) = review(replace(batch, recipe=CRAB.with_line(both)), FOODS, US)
    assert finding.kind is Kind.FIGURE
    assert "55 g" in finding.what
    assert "110 g" in finding.what
    assert "twice" in finding.what


def test_swapped_figures_are_told_as_swapped() -> None:
    recipe = with_text(CRAB, "sour-cream", "1/2 cup (55 g) sour cream")
    recipe = with_text(recipe, "mayonnaise", "1/4 cup (115 g) mayonnaise")
    found = of(Kind.FIGURE, findings(recipe))
    assert {finding.where for finding in found} == {"sour-cream", "mayonnaise"}
    assert all("swapped" in finding.what for finding in found)


def test_millilitres_that_pass_for_grams_are_told() -> None:
    recipe = with_text(CRAB, "breadcrumbs", "1/4 cup (59 g) breadcrumbs")
    (finding,) = findings(recipe)
    assert finding.kind is Kind.FIGURE
    assert "twice" in finding.what or "millilitres" in finding.what


def test_the_fix_of_a_wrong_figure_mends_the_text_as_well() -> None:
    recipe = with_text(CRAB, "mayonnaise", "1/4 cup (110 g) mayonnaise")
    (finding,) = findings(recipe)
    assert finding.fix is not None
    assert finding.fix.apply(recipe).line("mayonnaise").text == "1/4 cup (55 g) mayonnaise"


def test_the_spoons_of_another_system_are_weighed_as_they_are() -> None:
    line = Line(id="milk", food="milk-whole", amount="2 tbsp", text="2 tbsp (40 ml) milk")
    recipe = Recipe(
        title="Dip", servings=1.0, lines=(line, Line(id="q", food="quark-nonfat", grams=40.0))
    )
    assert of(Kind.AMOUNTS, findings(recipe)) != []
    assert of(Kind.AMOUNTS, findings(recipe, "australian")) == []


# Steps


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


# Salt and oil


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


# Claims


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
    assert any(what.startswith("Sodium") and "50 % too high" in what for what in found)
    assert any(what.startswith("Fat") and "50 % too low" in what for what in found)


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


# Units, portion, lines


def test_the_reference_amount_is_said_with_a_portion() -> None:
    (finding,) = findings(replace(CRAB, servings=2.0))
    assert finding.kind is Kind.PORTION
    assert "2 tablespoons" in finding.what
    assert finding.fix is not None
    assert findings(finding.fix.apply(replace(CRAB, servings=2.0))) == ()


def test_a_count_or_pack_that_the_food_has_a_measure_of_always_fits() -> None:
    for recipe in DEMO:
        for line in recipe.lines:
            for measure in FOODS.food(line.food).measures:
                if kind_of(measure.unit) not in (UnitKind.COUNT, UnitKind.PACK):
                    continue
                amount = f"1 {measure.unit}"
                try:
                    batch = weighed(recipe.with_line(replace(line, amount=amount)))
                except BadInput:
                    continue
                assert of(Kind.UNIT, review(batch, FOODS, US)) == []


def test_a_line_twice_for_two_uses_is_perhaps_meant() -> None:
    again = replace(BEANS.line("oil-olive"), id="more", amount="1 tbsp", role="garnish")
    (finding,) = findings(replace(BEANS, lines=(*BEANS.lines, again)))
    assert (finding.kind, finding.where, finding.sureness) == (Kind.TWICE, "more", "perhaps")


def test_a_line_of_the_source_that_the_recipe_lacks_is_told_in_its_words() -> None:
    (finding,) = findings(BEANS, texts={"extra": "a few olives, to serve"})
    assert (finding.kind, finding.where) == (Kind.LEFT_OUT, "extra")
    assert "a few olives, to serve" in finding.what


def test_each_kind_of_fault_is_planted_by_some_test() -> None:
    planted = {kind for plant in PLANTS for one in variants(plant)[:2] for kind in one.kinds}
    assert planted == set(Kind)
    assert all(
        any(is_found(one, finding) for finding in reviewed(one))
        for plant in PLANTS
        for one in variants(plant)[:1]
    )

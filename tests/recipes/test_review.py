"""The review: what a finding says, what its fix does, and that it never fails."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import Line, Recipe, weigh_recipe
from reformulate.foods.nutrients import NUTRIENTS
from reformulate.recipes.review import LIKELY, SURE, Finding, Kind, review
from tests.recipes.planting import US, Plant, weighed
from tests.recipes.plants_in_lines import left_out
from tests.recipes.plants_in_the_dish import oil_without_amount
from tests.recipes.review_cases import BEANS, CRAB, in_the_recipe, with_text
from tests.recipes.test_review_clean import FOODS, findings
from tests.recipes.test_review_seeded import PLANTS, is_found, reviewed, variants
from tests.strategies import recipes

every_plant = pytest.mark.parametrize("plant", PLANTS, ids=lambda plant: plant.__name__)


@every_plant
def test_a_fix_takes_its_finding_away_and_leaves_a_recipe_that_can_be_weighed(plant: Plant) -> None:
    tried = 0
    for planted in variants(plant, seed=3)[:10]:
        recipe = in_the_recipe(planted)
        for finding in findings(recipe):
            if finding.fix is None:
                continue
            tried += 1
            mended = finding.fix.apply(recipe)
            assert mended != recipe, finding.fix.words
            left = findings(mended)
            assert (finding.kind, finding.where) not in {
                (one.kind, one.where) for one in left if one.what == finding.what
            }
    # What stands beside the recipe, in no line of it, has nothing to mend.
    assert (tried == 0) is (plant in (oil_without_amount, left_out))


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


def test_each_kind_of_fault_is_planted_by_some_test() -> None:
    planted = {kind for plant in PLANTS for one in variants(plant)[:2] for kind in one.kinds}
    assert planted == set(Kind)
    assert all(
        any(is_found(one, finding) for finding in reviewed(one))
        for plant in PLANTS
        for one in variants(plant)[:1]
    )

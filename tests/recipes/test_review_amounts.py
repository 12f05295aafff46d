"""What a line says in two ways, units, portions and lines listed twice, in review."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reformulate import Line, Recipe
from reformulate.errors import BadInput
from reformulate.measures.words import Kind as UnitKind
from reformulate.measures.words import kind_of
from reformulate.recipes.review import Kind, review
from tests.recipes.planting import US, weighed
from tests.recipes.review_cases import BEANS, CRAB, of, with_text
from tests.recipes.test_review_clean import DEMO, FOODS, findings


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


@pytest.mark.parametrize(
    ("text", "agrees"),
    [
        ("3 cloves garlic (9 g)", True),
        ("3 cloves garlic (3 g)", True),
        ("3 cloves garlic (5 g)", False),
        ("1/4 cup garlic (11 g)", False),
    ],
)
def test_the_figure_beside_several_may_be_that_of_each(text: str, agrees: bool) -> None:
    amount = " ".join(text.split()[:2])
    line = replace(CRAB.line("garlic"), amount=amount, text=text)
    found = findings(CRAB.with_line(line))
    assert [finding.where for finding in found] == ([] if agrees else ["garlic"])


@pytest.mark.parametrize(
    ("line", "text", "sureness"),
    [
        # Two masses let pass 6 %, packs 15 %; more than twice that is sure to be a slip.
        ("crab-cooked", "12 oz (365 g) crab", "likely"),
        ("crab-cooked", "12 oz (400 g) crab", "sure"),
        ("cream-cheese", "1 pack (8 oz/245 g) cream cheese", "likely"),
    ],
)
def test_the_further_apart_the_surer(line: str, text: str, sureness: str) -> None:
    (finding,) = findings(with_text(CRAB, line, text))
    assert (finding.kind, finding.sureness) == (Kind.AMOUNTS, sureness)


def test_two_volumes_that_disagree_are_left_to_the_cook_to_mend() -> None:
    (finding,) = findings(with_text(CRAB, "sour-cream", "1/2 cup (140 ml) sour cream"))
    assert finding.kind is Kind.AMOUNTS
    assert finding.fix is None


def test_a_figure_that_another_line_weighs_names_that_line() -> None:
    (finding,) = findings(with_text(CRAB, "mayonnaise", "1/4 cup (340 g) mayonnaise"))
    assert finding.kind is Kind.FIGURE
    assert finding.what.endswith("the line says 340 g, which is what crab-cooked weighs.")


@pytest.mark.parametrize(
    ("amount", "grams", "told"),
    [
        ("", 2.0, []),
        ("", 2.1, [("2.1 g of salt is 2.1 % of the batch.", "likely")]),
        ("1 tsp", None, [("1 tsp of salt, 6 g, is 5.8 % of the batch.", "sure")]),
    ],
)
def test_more_salt_than_can_be_eaten_is_told(
    amount: str, grams: float | None, told: list[tuple[str, str]]
) -> None:
    quark = Line(id="quark", food="quark-nonfat", grams=100.0 - (grams or 2.0))
    salt = Line(id="salt", food="salt-table", grams=grams, amount=amount)
    found = of(Kind.UNIT, findings(Recipe(title="Dip", servings=4.0, lines=(quark, salt))))
    assert [(finding.what, finding.sureness) for finding in found] == told


@pytest.mark.parametrize(("quark", "sureness"), [(2000.0, "perhaps"), (500.0, "sure")])
def test_a_cup_of_spice_is_the_surer_a_slip_the_more_of_the_dish_it_is(
    quark: float, sureness: str
) -> None:
    # 24 g of cumin: 3 % of the batch is where a cup of it is no longer a large batch's.
    lines = (
        Line(id="quark", food="quark-nonfat", grams=quark),
        Line(id="cumin", food="cumin", amount="1/4 cup"),
    )
    (finding,) = of(Kind.UNIT, findings(Recipe(title="Dip", servings=20.0, lines=lines)))
    assert (finding.where, finding.sureness) == ("cumin", sureness)


@pytest.mark.parametrize("text", ["15 oz (1 can) chickpeas", "15 oz, 1 can chickpeas, drained"])
def test_a_pack_without_its_size_says_nothing_against_a_mass(text: str) -> None:
    line = Line(id="more", food="chickpeas-canned", amount="15 oz", text=text)
    recipe = replace(BEANS, lines=(*BEANS.lines, line), steps=())
    assert of(Kind.AMOUNTS, findings(recipe)) == of(Kind.FIGURE, findings(recipe)) == []


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
    # 1/4 cup of it weighs 25 g: 59 is neither twice nor three times as much.
    (finding,) = findings(with_text(CRAB, "scallion", "1/4 cup (59 g) scallion"))
    assert finding.kind is Kind.FIGURE
    assert "59 g, which is its volume in millilitres." in finding.what


def test_a_figure_that_is_a_multiple_is_told_as_one() -> None:
    (finding,) = findings(with_text(CRAB, "breadcrumbs", "1/4 cup (59 g) breadcrumbs"))
    assert finding.kind is Kind.FIGURE
    assert "59 g, twice as much." in finding.what


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

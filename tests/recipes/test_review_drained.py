"""Cans and jars in review: whether the drained weight is meant, and whether it is known at all."""

from __future__ import annotations

import pytest

from reformulate import Line, Recipe
from reformulate.recipes.review import Finding, Kind
from tests.recipes.review_cases import of
from tests.recipes.test_review_clean import findings


def found_of(food: str, amount: str = "", **more: object) -> list[Finding]:
    """What is told of cans and jars where a line of the food is half of a dip."""
    line = Line(id="line", food=food, amount=amount, **more)  # type: ignore[arg-type]
    quark = Line(id="quark", food="quark-nonfat", grams=500.0)
    return of(Kind.DRAINED, findings(Recipe(title="Dip", servings=16.0, lines=(quark, line))))


def test_a_food_of_which_only_can_and_liquid_together_are_known_says_so_when_drained() -> None:
    (finding,) = found_of("sauerkraut", "1 cup", prep="drained")
    assert "figures of solids and liquid only" in finding.what
    assert found_of("sauerkraut", "1 cup") == []


def test_a_drained_pack_of_unknown_drained_weight_is_told() -> None:
    (finding,) = found_of("capers", "1 jar (10 oz)", prep="drained")
    assert finding.what == "The line drains capers, and the whole 10 oz of each jar is counted."
    assert found_of("tuna-light-water", "1 can (10 oz)", prep="drained") == []


@pytest.mark.parametrize(
    ("grams", "is_a_can"), [(425.0, True), (426.0, True), (430.0, False), (405.0, False)]
)
def test_a_mass_that_a_whole_can_holds_may_be_that_of_the_can(grams: float, is_a_can: bool) -> None:
    found = found_of("chickpeas-canned", grams=grams)
    assert [finding.where for finding in found] == ["line"] * is_a_can
    assert found_of("chickpeas-canned", grams=grams, prep="drained") == []

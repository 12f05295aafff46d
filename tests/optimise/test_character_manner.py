"""Closest character: the least change of the eight properties, then the fewest changes."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings

from reformulate import BatchHold, Brief, Goal, Line, LineHold, Manner, Recipe, Status
from tests.optimise.dips import CREAMY, PAIR, closest
from tests.optimise.plain_rules import (
    LITTLE,
    finished,
    finished_of_each,
    quantity_of_each,
    sum_of,
    write_rules,
)
from tests.optimise.rule_cases import swap_cases
from tests.optimise.rule_solvers import closest_in_character
from tests.strategies import Case, cases

FEW = settings(max_examples=max(5, settings().max_examples // 2))


def kinds_of(recipe: Recipe, brief: Brief) -> list[tuple[list[float], float]]:
    """For each property the sum that is 0 where it is as in the original, and what counts as 1."""
    kept = finished_of_each(recipe, brief)
    whole = finished(recipe, brief)
    kinds = []
    for quality, little in LITTLE.items():
        each = quantity_of_each(recipe, brief, quality)
        amount = sum_of(recipe, brief, quality)
        row = [c - amount / whole * y for c, y in zip(each, kept, strict=True)]
        kinds.append((row, max(amount, little * whole / 100)))
    return kinds


def change_of_character(kinds: list[tuple[list[float], float]], grams: list[float]) -> float:
    return sum(
        abs(sum(c * g for c, g in zip(row, grams, strict=True))) / size for row, size in kinds
    )


@given(cases(most_lines=8, most_swaps=4))
def test_closest_in_character_is_what_two_plain_programs_find(case: Case) -> None:
    brief = replace(case.brief, manner=Manner.CHARACTER)
    found = closest(case.recipe, brief)
    rules, kinds = write_rules(case.recipe, brief), kinds_of(case.recipe, brief)
    expected = closest_in_character(rules.musts, kinds)
    assert expected is not None
    (_, least), (low, high) = expected
    assert found.status is Status.OPTIMAL
    assert found.certificate.holds
    assert rules.worst(found.exact.tolist()) <= 1e-7
    assert change_of_character(kinds, found.exact.tolist()) == pytest.approx(
        least, rel=1e-6, abs=1e-6
    )
    dust = 1e-5 * (1 + high)
    assert low - dust <= rules.musts.changes(found.exact) <= high + dust


@given(swap_cases(most_swaps=3))
@FEW
def test_of_all_choices_of_swaps_the_one_closest_in_character_is_made(case: Case) -> None:
    brief = replace(case.brief, manner=Manner.CHARACTER)
    found = closest(case.recipe, brief)
    rules, kinds = write_rules(case.recipe, brief), kinds_of(case.recipe, brief)
    tried = [closest_in_character(rules.under(used), kinds) for used in rules.patterns()]
    can = [costs for costs in tried if costs is not None]
    assert (found.status is Status.OPTIMAL) == bool(can)
    if not can:
        return
    assert rules.broken(found.exact.tolist()) == []
    least = min(first for (_, first), _ in can)
    assert change_of_character(kinds, found.exact.tolist()) == pytest.approx(
        least, rel=1e-6, abs=1e-6
    )
    assert rules.musts.changes(found.exact) <= 1e-5 + min(
        most for (_, first), (_, most) in can if first <= least + 1e-9
    )


@given(cases(most_lines=8, most_swaps=3))
def test_a_held_property_changes_no_more_than_with_the_other_manners(case: Case) -> None:
    kinds = kinds_of(case.recipe, case.brief)
    sums = {
        manner: change_of_character(
            kinds, closest(case.recipe, replace(case.brief, manner=manner)).exact.tolist()
        )
        for manner in Manner
    }
    assert sums[Manner.CHARACTER] <= min(sums.values()) + 1e-6


def test_character_keeps_salt_where_fewest_changes_lets_it_go() -> None:
    goal = Goal(nutrient="energy_kcal", at_most=150.0)
    brief = Brief(goals=(goal,), holds=(BatchHold(),), manner=Manner.CHARACTER)
    few = closest(CREAMY, replace(brief, manner=Manner.FEWEST))
    near = closest(CREAMY, brief)
    kinds = kinds_of(CREAMY, brief)
    assert change_of_character(kinds, near.exact.tolist()) < 0.8 * change_of_character(
        kinds, few.exact.tolist()
    )
    assert near.changes > few.changes


def test_a_property_that_is_the_same_in_every_food_does_not_matter() -> None:
    # 9 mg of sodium in 100 g of either (NDB 11265 and 12036): what differs is rounding.
    recipe = replace(
        PAIR,
        moisture_loss_percent=1.0,
        lines=(
            Line(id="mushrooms", food="mushroom-portobello", grams=100.0),
            Line(id="seeds", food="sunflower-seeds", grams=102.7),
        ),
    )
    goal = Goal(nutrient="fat_g", at_most=10.0)
    brief = Brief(goals=(goal,), holds=(BatchHold(),), manner=Manner.CHARACTER)
    found = closest(recipe, brief)
    assert found.status is Status.OPTIMAL
    assert found.goals[0].level == pytest.approx(10.0, abs=0.2)


def test_a_dish_of_one_line_has_the_same_character_however_much_of_it_there_is() -> None:
    recipe = replace(PAIR, lines=PAIR.lines[:1])
    goal = Goal(nutrient="energy_kcal", at_most=80.0)
    found = closest(recipe, Brief(goals=(goal,), manner=Manner.CHARACTER))
    assert found.exact[0] == pytest.approx(80.0 * 4 / 1.98, abs=1e-6)


def test_a_wish_comes_before_character_and_a_lock_before_both() -> None:
    wish = Goal(nutrient="energy_kcal", at_most=80.0, rank=1)
    brief = Brief(goals=(wish,), holds=(BatchHold(tolerance=0.0),), manner=Manner.CHARACTER)
    assert closest(PAIR, brief).exact[0] == pytest.approx(143 / 1.39, abs=1e-4)
    locked = replace(brief, holds=(*brief.holds, LineHold(line="sour-cream", tolerance=0.0)))
    assert closest(PAIR, locked).grams.tolist() == [200.0, 100.0]

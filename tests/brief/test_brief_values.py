"""Briefs as values: changing one goal or hold, groups of lines, the holds a recipe starts with."""

from __future__ import annotations

import pytest

from reformulate import (
    BatchHold,
    Brief,
    Goal,
    Line,
    LineHold,
    Per,
    RatioHold,
    Recipe,
    RoleHold,
    brief_problems,
    group_words,
    starting_brief,
)
from reformulate.brief import lines_in

FAT = Goal(nutrient="fat_g", at_most=5.0)
ENERGY = Goal(nutrient="energy_kcal", at_most=100.0)
SALT = Goal(nutrient="sodium_mg", at_most=200.0)


def recipe(*roles: str) -> Recipe:
    lines = tuple(
        Line(id=f"{role}-{i}", food="sour-cream", grams=10.0, role=role)
        for i, role in enumerate(roles)
    )
    return Recipe(title="t", servings=4, lines=lines)


def test_a_goal_takes_the_place_of_the_one_on_its_nutrient() -> None:
    other = Goal(nutrient="fat_g", at_least=1.0, per=Per.HUNDRED_GRAMS)
    assert Brief(goals=(ENERGY, FAT, SALT)).with_goal(other).goals == (ENERGY, other, SALT)


def test_a_goal_on_a_new_nutrient_comes_last() -> None:
    assert Brief(goals=(ENERGY,)).with_goal(FAT).goals == (ENERGY, FAT)


def test_a_goal_replaces_every_goal_on_its_nutrient() -> None:
    second = Goal(nutrient="fat_g", at_most=50.0, per=Per.ORIGINAL)
    other = Goal(nutrient="fat_g", at_least=1.0)
    assert Brief(goals=(FAT, ENERGY, second)).with_goal(other).goals == (other, ENERGY)


def test_a_goal_can_be_found_and_dropped() -> None:
    brief = Brief(goals=(ENERGY, FAT))
    assert brief.goal_on("fat_g") == FAT
    assert brief.goal_on("water_g") is None
    assert brief.without_goal("energy_kcal").goals == (FAT,)
    assert brief.without_goal("water_g") == brief


def test_a_line_is_held_once_and_can_be_freed() -> None:
    lock, range_ = LineHold(line="a", tolerance=0.0), LineHold(line="a", most=5.0)
    brief = Brief(holds=(BatchHold(), lock))
    assert lock.locked
    assert not range_.locked
    assert brief.with_line_hold("a", range_).holds == (BatchHold(), range_)
    assert brief.with_line_hold("a", None).holds == (BatchHold(),)
    assert brief.hold_on("a") == lock
    assert brief.hold_on("b") is None


def test_changing_a_brief_leaves_the_old_one_as_it_was() -> None:
    brief = Brief(goals=(ENERGY,))
    brief.with_goal(FAT)
    brief.without_goal("energy_kcal")
    brief.with_line_hold("a", LineHold(line="a", most=1.0))
    assert brief == Brief(goals=(ENERGY,))


def test_a_group_names_lines_by_id_and_by_role() -> None:
    dip = recipe("base", "fat", "fat", "acid")
    assert lines_in(("role:fat", "acid-3"), dip) == {"fat-1", "fat-2", "acid-3"}
    assert lines_in(("nothing",), dip) == frozenset()
    assert lines_in(("fat",), dip) == frozenset()


def test_a_group_is_said_in_names_of_foods_and_roles() -> None:
    assert group_words(("role:base", "a", "b"), {"a": "Garlic"}) == "base + Garlic + b"


def test_a_recipe_starts_with_its_batch_size_flavours_against_the_base_and_each_seasoning() -> None:
    dip = recipe("base", "flavouring", "acid", "salt", "fat")
    brief = starting_brief(dip)
    assert brief.holds == (
        BatchHold(),
        RatioHold(of=("role:flavouring",), to=("role:base",), tolerance=0.15),
        RatioHold(of=("role:acid",), to=("role:base",), tolerance=0.15),
        RatioHold(of=("role:salt",), to=("role:base",), tolerance=0.25),
        LineHold(line="flavouring-1", tolerance=0.5),
        LineHold(line="salt-3", tolerance=0.5),
    )
    assert brief.goals == ()
    assert not list(brief_problems(brief, dip))


def test_without_a_base_each_flavour_keeps_its_own_mass() -> None:
    dip = recipe("body", "garnish", "sweetener", "inclusion")
    brief = starting_brief(dip)
    assert brief.holds == (
        BatchHold(),
        RoleHold(role="sweetener", tolerance=0.25),
        RoleHold(role="inclusion", tolerance=0.25),
        RoleHold(role="garnish", tolerance=0.25),
        LineHold(line="garnish-1", tolerance=0.5),
        LineHold(line="sweetener-2", tolerance=0.5),
    )
    assert not list(brief_problems(brief, dip))


def test_a_brief_cannot_be_changed_in_place() -> None:
    with pytest.raises(AttributeError):
        Brief().swap_band = 0.5  # type: ignore[misc]

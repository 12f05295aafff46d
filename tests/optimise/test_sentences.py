"""What an answer says of itself, in whole sentences."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import (
    NUTRIENTS,
    BatchHold,
    Brief,
    Goal,
    GoalResult,
    Line,
    LineHold,
    Per,
    Recipe,
    Swap,
    goal_words,
    per_words,
    quantity,
    shortfall_words,
    state_sentence,
    unknown_sentence,
)
from tests.optimise.dips import CREAMY, PAIR, answer
from tests.strategies import Case, cases, harsh_cases

ENERGY = "energy_kcal"
HELD = (BatchHold(tolerance=0.0),)
YOGURT = "yogurt-strained-nonfat"


@pytest.mark.parametrize(
    ("goal", "told"),
    [
        (Goal(nutrient=ENERGY, at_most=130.0), "energy at most 130 kcal per serving"),
        (
            Goal(nutrient="protein_g", at_least=4.5, per=Per.HUNDRED_GRAMS),
            "protein at least 4.5 g per 100 g",
        ),
        (
            Goal(nutrient="fat_g", at_least=20.0, at_most=30.0, per=Per.ENERGY),
            "fat between 20 % and 30 % of the energy",
        ),
        (
            Goal(nutrient="sodium_mg", at_most=75.0, per=Per.ORIGINAL),
            "sodium at most 75 % of the original",
        ),
        (Goal(nutrient="saturated_g", at_most=0.0), "saturated fat at most 0.0 g per serving"),
        (Goal(nutrient="calcium_mg", at_least=120.0), "calcium at least 120 mg per serving"),
    ],
    ids=lambda value: value.nutrient if isinstance(value, Goal) else "",
)
def test_a_goal_in_words(goal: Goal, told: str) -> None:
    assert goal_words(goal) == told


@pytest.mark.parametrize(
    ("value", "key", "per", "told"),
    [
        (131.4, ENERGY, Per.SERVING, "131 kcal"),
        (3.25, "fat_g", Per.HUNDRED_GRAMS, "3.2 g"),
        (0.123456, "thiamin_mg", Per.SERVING, "0.123 mg"),
        (23.6, "fat_g", Per.ENERGY, "24 %"),
        (99.7, ENERGY, Per.ORIGINAL, "100 %"),
    ],
)
def test_a_quantity_has_its_unit_and_the_decimals_of_its_nutrient(
    value: float, key: str, per: Per, told: str
) -> None:
    assert quantity(value, key, per) == told


def test_every_unit_has_words() -> None:
    assert [per_words(per) for per in Per] == [
        "per serving",
        "per 100 g",
        "of the energy",
        "of the original",
    ]


def result(goal: Goal, level: float, misses_by: float) -> GoalResult:
    return GoalResult(goal=goal, level=level, original=0.0, misses_by=misses_by, at_least=False)


@pytest.mark.parametrize(
    ("goal", "level", "missed", "told"),
    [
        (
            Goal(nutrient=ENERGY, at_most=130.0),
            142.0,
            12.0,
            "energy stays 12 kcal above 130 kcal per serving",
        ),
        (
            Goal(nutrient="protein_g", at_least=5.0, per=Per.HUNDRED_GRAMS),
            4.1,
            0.9,
            "protein stays 0.9 g below 5.0 g per 100 g",
        ),
        (
            Goal(nutrient="fat_g", at_least=10.0, at_most=30.0, per=Per.ENERGY),
            41.0,
            11.0,
            "fat stays 11 percentage points above 30 % of the energy",
        ),
        (
            Goal(nutrient="fat_g", at_least=10.0, at_most=30.0, per=Per.ENERGY),
            6.0,
            4.0,
            "fat stays 4 percentage points below 10 % of the energy",
        ),
        (
            Goal(nutrient="sodium_mg", at_most=50.0, per=Per.ORIGINAL),
            62.0,
            12.0,
            "sodium stays 12 percentage points above 50 % of the original",
        ),
        (
            Goal(nutrient=ENERGY, at_most=130.0),
            130.034,
            0.034,
            "energy stays 0.03 kcal above 130 kcal per serving",
        ),
        (
            Goal(nutrient="fat_g", at_most=3.0),
            3.0002,
            0.0002,
            "fat stays 0.0002 g above 3.0 g per serving",
        ),
    ],
)
def test_a_shortfall_in_words(goal: Goal, level: float, missed: float, told: str) -> None:
    assert shortfall_words(result(goal, level, missed)) == told


def test_a_goal_met_by_a_line_that_moves() -> None:
    goal = Goal(nutrient=ENERGY, at_most=100.0)
    found = answer(PAIR, Brief(goals=(goal,), holds=(LineHold(line=YOGURT, tolerance=0.0),)))
    # 341 kcal of sour cream are left of 400 beside 59 of yogurt: 172.2 of 200 g.
    assert found.grams.tolist() == [172.0, 100.0]
    assert state_sentence(found) == (
        "Meets the goal: energy at most 100 kcal per serving. 1 line changes, sour cream −14 %."
    )


def test_goals_met_by_several_lines_name_the_one_that_changes_most() -> None:
    goals = (Goal(nutrient=ENERGY, at_most=80.0), Goal(nutrient="protein_g", at_least=5.0))
    found = answer(PAIR, Brief(goals=goals, holds=HELD))
    assert found.grams.tolist() == [102.0, 198.0]
    assert state_sentence(found) == "Meets both goals. 2 lines change, most: yogurt +98 %."


def test_three_goals_are_counted() -> None:
    goals = tuple(Goal(nutrient=key, at_most=1e6) for key in (ENERGY, "fat_g", "sodium_mg"))
    found = answer(PAIR, Brief(goals=goals, holds=HELD))
    assert state_sentence(found) == "Meets all 3 goals. Nothing changes."


def test_without_goals_there_is_nothing_to_meet() -> None:
    assert state_sentence(answer(PAIR, Brief())) == "No goals yet. Nothing changes."


def test_a_swap_that_stands_in_is_named_as_it_is_spoken() -> None:
    recipe = Recipe(
        title="t", servings=4, lines=(Line(id="sour-cream", food="sour-cream", grams=200.0),)
    )
    swap = Swap(food=YOGURT, stands_in_for=("sour-cream",))
    goal = Goal(nutrient=ENERGY, at_most=50.0)
    found = answer(recipe, Brief(goals=(goal,), holds=HELD, swaps=(swap,), swap_band=0.0))
    # 1.98 a + 0.59 (200 - a) = 200 gives a = 59.0.
    assert state_sentence(found) == (
        "Meets the goal: energy at most 50 kcal per serving. "
        "1 line changes, sour cream −71 %; swapped in: nonfat strained yogurt."
    )


def test_a_quantity_without_a_unit_leaves_no_gap() -> None:
    result = GoalResult(
        goal=Goal(nutrient="cost", at_most=1.0),
        level=1.09,
        original=1.25,
        misses_by=0.09,
        at_least=False,
    )
    assert shortfall_words(result) == "cost stays 0.09 above 1.00 per serving"


def test_the_parts_of_a_sentence_fit_what_happened() -> None:
    swaps = (
        Swap(food=YOGURT, stands_in_for=("sour-cream", "cream-cheese"), largest_share=0.3),
        Swap(
            food="cottage-cheese", stands_in_for=("cream-cheese", "mayonnaise"), largest_share=0.3
        ),
    )
    goal = Goal(nutrient="fat_g", at_most=9.0)
    found = answer(CREAMY, Brief(goals=(goal,), holds=(BatchHold(),), swaps=swaps, swap_band=0.1))
    told = state_sentence(found)
    lines = sum(1 for amount in found.amounts if amount.line and amount.moved)
    assert told.startswith("Meets the goal: fat at most 9.0 g per serving. ")
    assert f"{lines} lines change, most: " in told
    assert told.endswith("swapped in: nonfat strained yogurt and creamed cottage cheese.")


def test_what_is_not_known_is_said_with_the_foods() -> None:
    recipe = Recipe(
        title="t",
        servings=4,
        lines=(
            Line(id="a", food="sour-cream-fat-free", grams=100.0),
            Line(id="b", food="sour-cream", grams=100.0),
        ),
    )
    goals = (Goal(nutrient="added_sugars_g", at_most=5.0), Goal(nutrient=ENERGY, at_most=500.0))
    found = answer(recipe, Brief(goals=goals, holds=HELD))
    assert unknown_sentence(found) == (
        "Added sugars is at least what is shown: not known for fat free sour cream."
    )
    known = answer(PAIR, Brief(goals=(Goal(nutrient=ENERGY, at_most=500.0),)))
    assert unknown_sentence(known) == ""


@given(cases() | harsh_cases())
def test_a_sentence_never_says_nothing_nor_too_little(case: Case) -> None:
    found = answer(case.recipe, case.brief)
    told = state_sentence(found)
    assert told.endswith(".")
    assert not re.search(r"\b(nan|inf)\b", told)
    assert "Out of reach: ." not in told
    assert (told.startswith("Out of reach: ")) == (found.status.value == "conflict")
    for each in found.goals:
        if not each.met:
            assert shortfall_words(each) in told


@given(st.sampled_from([kind.key for kind in NUTRIENTS]), st.floats(1e-6, 1e3))
def test_a_shortfall_never_reads_as_nothing(key: str, missed: float) -> None:
    told = shortfall_words(result(Goal(nutrient=key, at_most=1.0), 1.0 + missed, missed))
    number = told.split(" stays ")[1].split(" ")[0]
    assert float(number) > 0


def test_half_a_unit_short_is_not_nothing() -> None:
    told = shortfall_words(result(Goal(nutrient=ENERGY, at_most=130.0), 130.5, 0.5))
    assert told != "energy stays 0 kcal above 130 kcal per serving"


def test_names_of_vitamins_keep_their_capitals() -> None:
    goal = Goal(nutrient="vitamin_a_ug", at_least=50.0)
    assert goal_words(goal) == "vitamin A (RAE) at least 50 µg per serving"


def test_what_a_hold_gives_is_written_like_every_percentage_and_never_as_nothing() -> None:
    holds = (BatchHold(tolerance=0.0), LineHold(line="sour-cream", least=300.9))
    found = answer(PAIR, Brief(holds=holds))
    (short,) = found.holds
    assert short.gives == pytest.approx(0.003, abs=1e-6)
    assert "batch size gives way by 0.3 %" in state_sentence(found)

"""Which limits are told to give, by how large a step, and which are not worth a word."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reformulate import (
    SYSTEMS,
    BatchHold,
    Brief,
    Give,
    Goal,
    LineHold,
    Per,
    RoleHold,
    weigh_recipe,
    what_gives,
)
from tests.optimise.dips import PAIR, answer
from tests.recipes.plain_sums import FOODS

BATCH = weigh_recipe(PAIR, FOODS, SYSTEMS["us"])


def told(brief: Brief) -> tuple[Give, ...]:
    return what_gives(BATCH, brief, FOODS)


@pytest.mark.parametrize(
    ("goal", "words", "step"),
    [
        (Goal(nutrient="energy_kcal", at_most=70.0), "10 kcal less", -10.0),
        (Goal(nutrient="fat_g", at_most=7.0), "1 g less", -1.0),
        (Goal(nutrient="protein_g", at_least=5.0), "1 g more", 1.0),
        (Goal(nutrient="energy_kcal", at_most=100.0, per=Per.HUNDRED_GRAMS), "10 kcal less", -10.0),
        (Goal(nutrient="energy_kcal", at_most=80.0, per=Per.ORIGINAL), "1 % less", -1.0),
        (Goal(nutrient="fat_g", at_most=30.0, per=Per.ENERGY), "1 % less", -1.0),
    ],
)
def test_a_step_is_ten_kilocalories_a_gram_or_a_percent(
    goal: Goal, words: str, step: float
) -> None:
    first = told(Brief(goals=(goal,), holds=(BatchHold(),)))[0].lever
    assert (first.nutrient, first.step_words, first.step) == (goal.nutrient, words, step)


def test_a_hold_that_another_keeps_as_tight_is_not_told() -> None:
    # Both lines are the base, so that its mass is the batch's: loosening one of the two changes nothing.
    goal = Goal(nutrient="energy_kcal", at_most=70.0)
    alone = Brief(goals=(goal,), holds=(BatchHold(tolerance=0.02),))
    both = replace(alone, holds=(*alone.holds, RoleHold(role="base", tolerance=0.02)))
    assert [give.lever.words for give in told(alone)] == [
        "energy at most 70 kcal per serving",
        "batch size within ± 2 %",
    ]
    assert [give.lever.words for give in told(both)] == ["energy at most 70 kcal per serving"]
    assert {line.role for line in PAIR.lines} == {"base"}


def test_a_line_that_is_gone_is_not_told_to_become_less() -> None:
    # 14 kcal a serving are less than the yogurt's alone, so that no sour cream is left.
    brief = Brief(
        goals=(Goal(nutrient="energy_kcal", at_most=14.0),),
        holds=(LineHold(line="sour-cream", most=300.0),),
    )
    found = answer(PAIR, brief)
    assert found.exact[0] == pytest.approx(0.0, abs=1e-6)
    assert [give.lever.nutrient for give in told(brief)] == ["energy_kcal"]

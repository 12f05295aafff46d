"""Measured answers small enough to work out by hand: what stays as written, and what gives way first."""

from __future__ import annotations

import numpy as np
import pytest

from reformulate import (
    SYSTEMS,
    Answer,
    BatchHold,
    Brief,
    Goal,
    Line,
    LineHold,
    Optimiser,
    Recipe,
    Status,
    measured_answer,
    weigh_recipe,
)
from tests.recipes.plain_sums import COLUMN, FOODS

US = SYSTEMS["us"]


def measured(recipe: Recipe, brief: Brief) -> tuple[Answer, Answer]:
    """The answer in grams, and the measured one."""
    exact = Optimiser(weigh_recipe(recipe, FOODS, US), brief, FOODS).answer(brief)
    return exact, measured_answer(exact, US)


EGGS = Recipe(
    title="Egg cream",
    servings=4.0,
    lines=(
        Line(id="egg", food="egg-hard-boiled", amount="4"),
        Line(id="sour-cream", food="sour-cream", amount="1 cup"),
    ),
)
"""200 g of eggs that come in halves of 25 g, and 230 g of cream; 191 kcal a serving."""

CREAM_LOCKED = LineHold(line="sour-cream", tolerance=0.0)


def test_goals_give_way_before_holds_where_pieces_are_too_coarse() -> None:
    # 2 % of the batch less are 191.4 g of eggs at least; the goal leaves 196.5 g. Of 175 and 200 g
    # the one breaks the hold and the other the goal.
    goal = Goal(nutrient="energy_kcal", at_most=190.0)
    brief = Brief(goals=(goal,), holds=(BatchHold(tolerance=0.02), CREAM_LOCKED))
    exact, found = measured(EGGS, brief)
    assert exact.status is Status.OPTIMAL
    assert exact.exact[0] == pytest.approx(196.5, abs=0.1)
    assert found.grams.tolist() == [200.0, 230.0]
    assert found.measured is not None
    assert found.measured.in_the_way == ("energy",)
    assert not found.goals[0].met


def test_where_no_hold_is_in_the_way_the_goal_is_kept() -> None:
    goal = Goal(nutrient="energy_kcal", at_most=190.0)
    _, found = measured(EGGS, Brief(goals=(goal,), holds=(CREAM_LOCKED,)))
    assert found.grams.tolist() == [175.0, 230.0]
    assert found.measured is not None
    assert found.measured.in_the_way == ()
    assert found.goals[0].met


def test_a_line_that_need_not_move_keeps_grams_that_no_scale_is_read_to() -> None:
    recipe = Recipe(
        title="Light quark",
        servings=4.0,
        lines=(
            Line(id="quark", food="quark-nonfat", grams=333.0),
            Line(id="mayonnaise", food="mayonnaise", amount="1/2 cup"),
        ),
    )
    goal = Goal(nutrient="energy_kcal", at_most=200.0)
    exact, found = measured(recipe, Brief(goals=(goal,)))
    assert exact.exact[0] == pytest.approx(333.0)
    assert found.grams[0] == 333.0
    assert found.measured is not None
    words = [str(one.amount) if one else "" for one in found.measured.amounts]
    assert words == ["", "1/4 cup + 2 tbsp"]
    energy = np.array([FOODS.values[FOODS.index(line.food), 1] for line in recipe.lines])
    assert float(energy @ found.grams) / 100.0 / 4.0 <= 200.0
    assert found.achieved.per_serving[COLUMN["energy_kcal"]] == pytest.approx(
        float(energy @ found.grams) / 100.0 / 4.0
    )

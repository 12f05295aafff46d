"""The search of the whole table: exact, with the bound that proves it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import (
    SYSTEMS,
    BadInput,
    BatchHold,
    Brief,
    FoodTable,
    Goal,
    Line,
    LineHold,
    Recipe,
    Stopped,
    Swap,
    food_table,
    search_table,
    weigh_recipe,
)
from reformulate.optimise.engine import solve_program
from reformulate.optimise.items import collect_items
from reformulate.optimise.model import build_model
from reformulate.optimise.nearest import with_slack

FOODS = food_table()

RECIPE = Recipe(
    title="Invented dip",
    servings=6,
    lines=(
        Line(id="cream-cheese", food="cream-cheese", grams=200.0),
        Line(id="sour-cream", food="sour-cream", grams=120.0),
        Line(id="dill", food="dill", grams=8.0, role="flavouring"),
        Line(id="salt-table", food="salt-table", grams=2.0, role="salt"),
    ),
)
BATCH = weigh_recipe(RECIPE, FOODS, SYSTEMS["us"])


def brief(energy: float, protein: float) -> Brief:
    return Brief(
        goals=(
            Goal(nutrient="energy_kcal", at_most=energy),
            Goal(nutrient="protein_g", at_least=protein),
        ),
        holds=(
            BatchHold(),
            LineHold(line="dill", tolerance=0.5),
            LineHold(line="salt-table", tolerance=0.0),
        ),
    )


def some(table: FoodTable, rows: list[int]) -> FoodTable:
    return FoodTable(
        foods=tuple(table.foods[row] for row in rows),
        values=table.values[rows],
        known=table.known[rows],
    )


def cost_with(found: Brief, food: str, lines: tuple[str, ...]) -> float:
    """What the search makes least, for one food, from a program built for it alone."""
    swap = Swap(food=food, stands_in_for=lines, least=0.0)
    with_it = replace(found, swaps=(*found.swaps, swap))
    model = build_model(collect_items(BATCH, with_it, FOODS), with_it, RECIPE)
    m = len(model.rows)
    goal = np.arange(m) < model.goal_count
    elastic = with_slack(
        model.program,
        np.array([row.size for row in model.rows]) / model.row_scale,
        cost=np.where(goal, 1000.0, 0.0),
        most=np.where(goal, np.inf, 0.0),
    )
    cost = elastic.cost.copy()
    cost[: len(model.program.cost)] = model.program.cost
    return solve_program(replace(elastic, cost=cost)).objective


@given(
    energy=st.sampled_from([60.0, 90.0, 110.0]),
    protein=st.sampled_from([3.0, 5.0, 8.0]),
    start=st.integers(min_value=0, max_value=600),
)
def test_no_food_that_was_not_found_does_better(energy: float, protein: float, start: int) -> None:
    keep = {"cream-cheese", "sour-cream", "dill", "salt-table"}
    rows = [i for i, food in enumerate(FOODS.foods) if food.key in keep]
    rows += [i for i in range(start, start + 40) if i < len(FOODS) and i not in rows]
    table = some(FOODS, rows)
    wanted = brief(energy, protein)
    found = search_table(BATCH, wanted, table, ("cream-cheese",), count=3)
    others = [food.key for food in table.foods if food.key not in keep]
    costs = sorted(cost_with(wanted, key, ("cream-cheese",)) for key in others)
    assert [one.cost for one in found.found] == pytest.approx(costs[:3], rel=1e-6, abs=1e-6)
    assert found.bound >= found.found[-1].cost - 1e-6
    assert found.bound <= costs[3] + 1e-6


def test_it_solves_few_of_many() -> None:
    found = search_table(BATCH, brief(100.0, 5.0), FOODS, ("cream-cheese",))
    assert found.priced > 600
    assert found.solved < 60
    assert len(found.found) == 10
    assert all(one.cost <= found.bound + 1e-6 for one in found.found)


def test_what_it_finds_helps_where_the_goal_cannot_be_had_without() -> None:
    found = search_table(BATCH, brief(60.0, 8.0), FOODS, ("cream-cheese", "sour-cream"))
    assert found.found[0].misses < 0.2
    assert found.found[0].cost < found.without


def test_only_what_is_wanted_is_looked_at() -> None:
    found = search_table(
        BATCH,
        brief(100.0, 5.0),
        FOODS,
        ("cream-cheese",),
        wanted=lambda food: food.group == "Dairy",
    )
    assert {one.food.group for one in found.found} == {"Dairy"}


def test_a_food_of_which_a_goal_s_figure_is_not_known_says_so() -> None:
    goal = Goal(nutrient="added_sugars_g", at_most=0.5)
    wanted = replace(brief(100.0, 5.0), goals=(*brief(100.0, 5.0).goals, goal))
    found = search_table(BATCH, wanted, FOODS, ("cream-cheese",), count=40)
    column = FOODS.known[:, 11]
    for one in found.found:
        assert (one.unknown == ("added_sugars_g",)) == (not column[FOODS.index(one.food.key)])


def test_it_can_be_given_up() -> None:
    with pytest.raises(Stopped):
        search_table(BATCH, brief(60.0, 8.0), FOODS, ("cream-cheese",), progress=lambda _: False)


def test_holds_that_exclude_each_other_are_told() -> None:
    impossible = replace(
        brief(100.0, 5.0),
        holds=(
            BatchHold(tolerance=0.0),
            *(LineHold(line=line.id, most=10.0) for line in RECIPE.lines),
        ),
    )
    with pytest.raises(BadInput, match="holds conflict"):
        search_table(BATCH, impossible, FOODS, ("dill",))


def test_a_line_that_is_not_there_is_told() -> None:
    with pytest.raises(BadInput):
        search_table(BATCH, brief(100.0, 5.0), FOODS, ("no-such-line",))

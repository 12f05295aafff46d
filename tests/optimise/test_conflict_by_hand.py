"""Musts in conflict, small enough to work out by hand which of them gives way."""

from __future__ import annotations

import numpy as np
import pytest

from reformulate import SYSTEMS, Brief, Food, FoodTable, Goal, Line, Recipe, Status, solve
from reformulate.foods import INDEX


def invented(rows: dict[str, dict[str, float]]) -> FoodTable:
    """Foods with so much of some nutrients in 100 g, and none of the others."""
    values = np.zeros((len(rows), len(INDEX)))
    for i, figures in enumerate(rows.values()):
        for key, amount in figures.items():
            values[i, INDEX[key]] = amount
    return FoodTable(
        foods=tuple(Food(key=key, name=key, source="invented") for key in rows),
        values=values,
        known=np.ones_like(values, dtype=bool),
    )


@pytest.mark.parametrize(
    ("cream", "curd"),
    [
        # 5 % of the 50.1 g of fat there were are 2.5 g: a gram of curd is 0.1 / 2.5 of fat too much
        # and 0.1 of protein more. Counted by the limit alone it would be 0.1 / 0.5.
        (100.0, 10.0),
        # 5 % of 5.1 g are less than the limit of 0.5 g, which counts then: 0.1 / 0.5 against 0.1.
        (10.0, 5.0),
    ],
)
def test_a_limit_far_below_the_original_counts_as_a_twentieth_of_it(
    cream: float, curd: float
) -> None:
    foods = invented({"cream": {"fat_g": 50.0}, "curd": {"fat_g": 10.0, "protein_g": 10.0}})
    recipe = Recipe(
        title="t",
        servings=1.0,
        lines=(
            Line(id="cream", food="cream", grams=cream),
            Line(id="curd", food="curd", grams=1.0),
        ),
    )
    # 1 g of protein takes 10 g of curd, whose fat alone is twice what may be.
    goals = (Goal(nutrient="fat_g", at_most=0.5), Goal(nutrient="protein_g", at_least=1.0))
    found = solve(recipe, Brief(goals=goals), foods, SYSTEMS["us"])
    assert found.status is Status.CONFLICT
    assert found.exact.tolist() == pytest.approx([0.0, curd], abs=1e-4)

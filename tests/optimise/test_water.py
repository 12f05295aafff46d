"""Water that cooking drives off has to be there, as far as it is known, whatever the goals ask for."""

from __future__ import annotations

import numpy as np
import pytest

from reformulate import SYSTEMS, Answer, Brief, Food, FoodTable, Goal, Line, Recipe, Status, solve
from reformulate.foods import INDEX


def answer(water_of_curd: float | None, loss: float, *goals: Goal) -> Answer:
    """100 g each of broth, with 90 % water and 100 mg of sodium in 100 g, and of curd, invented."""
    values = np.zeros((2, len(INDEX)))
    values[0, INDEX["water_g"]] = 90.0
    values[0, INDEX["sodium_mg"]] = 100.0
    values[1, INDEX["water_g"]] = water_of_curd or 0.0
    known = np.ones_like(values, dtype=bool)
    known[1, INDEX["water_g"]] = water_of_curd is not None
    foods = FoodTable(
        foods=tuple(Food(key=key, name=key, source="invented") for key in ("broth", "curd")),
        values=values,
        known=known,
    )
    lines = tuple(Line(id=key, food=key, grams=100.0) for key in ("broth", "curd"))
    recipe = Recipe(title="t", servings=1.0, lines=lines, moisture_loss_percent=loss)
    return solve(recipe, Brief(goals=goals), foods, SYSTEMS["us"])


LESS_SALT = Goal(nutrient="sodium_mg", at_most=5.0)


def test_what_has_too_little_water_of_its_own_goes_with_what_brings_it() -> None:
    # Of 20 % lost, a gram of broth leaves 0.7 g of water, and a gram of curd is 0.1 g short. The
    # goal leaves 5 g of broth, whose water is enough for 35 g of curd.
    found = answer(10.0, 20.0, LESS_SALT)
    assert found.status is Status.OPTIMAL
    assert found.exact.tolist() == pytest.approx([5.0, 35.0], abs=1e-4)


def test_what_loses_nothing_may_be_dry() -> None:
    assert answer(10.0, 0.0, LESS_SALT).exact.tolist() == pytest.approx([5.0, 100.0], abs=1e-4)


def test_nothing_is_asked_of_water_that_is_not_all_known() -> None:
    # Were the curd's water nothing, 5 g of broth would carry 17.5 g of curd.
    found = answer(None, 20.0, LESS_SALT)
    assert found.status is Status.OPTIMAL
    assert found.exact.tolist() == pytest.approx([5.0, 100.0], abs=1e-4)

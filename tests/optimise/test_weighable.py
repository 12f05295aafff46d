"""Amounts shown: such as a kitchen scale gives, within every limit, unmoved lines untouched."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from reformulate import (
    Answer,
    BatchHold,
    Brief,
    Goal,
    Line,
    LineHold,
    RatioHold,
    Recipe,
    Status,
    Swap,
    state_sentence,
)
from reformulate.optimise.weighable import weighable
from tests.optimise.dips import CREAMY, PAIR, answer
from tests.strategies import Case, cases, harsh_cases

FloatArray = NDArray[np.float64]


def coarse_step(mass: float) -> float:
    return 1.0 if mass >= 20 else 0.1 if mass >= 2 else 0.01


def is_multiple(mass: float, step: float) -> bool:
    return abs(mass / step - round(mass / step)) < 1e-6


def assert_weighable(
    grams: FloatArray, exact: FloatArray, least: FloatArray, most: FloatArray
) -> None:
    """All amounts on one grid or at a limit of their line, or the exact ones."""
    if np.array_equal(grams, exact):
        return
    for finer in (1.0, 0.1, 0.01, 0.001):
        limits = zip(np.round(least, 6), np.round(most, 6), strict=True)
        on_grid = [
            is_multiple(mass, coarse_step(near) * finer) or mass in (low, high)
            for mass, near, (low, high) in zip(grams, exact, limits, strict=True)
        ]
        if all(on_grid):
            return
    pytest.fail(f"{grams.tolist()} for {exact.tolist()} lie on no grid")


def moved(found: Answer) -> NDArray[np.bool_]:
    start = found.items.original
    return np.abs(found.exact - start) > 1e-6 * np.maximum(start, 1.0)


@given(cases() | harsh_cases())
def test_amounts_shown_are_multiples_of_a_scales_step_or_exact(case: Case) -> None:
    found = answer(case.recipe, case.brief)
    free = moved(found)
    items = found.items
    assert_weighable(found.grams[free], found.exact[free], items.least[free], items.most[free])


@given(cases() | harsh_cases())
def test_amounts_shown_stay_within_the_limits_of_their_lines(case: Case) -> None:
    found = answer(case.recipe, case.brief)
    assert (found.grams >= found.items.least - 1e-6).all()
    assert (found.grams <= found.items.most + 1e-6).all()
    assert (found.grams >= 0).all()


@given(cases() | harsh_cases())
def test_lines_that_have_not_moved_keep_their_grams(case: Case) -> None:
    found = answer(case.recipe, case.brief)
    kept = ~moved(found)
    np.testing.assert_allclose(found.grams[kept], found.items.original[kept], rtol=0, atol=1e-6)


def rounded(
    exact: list[float],
    *,
    original: list[float] | None = None,
    least: list[float] | None = None,
    most: list[float] | None = None,
    rows: list[list[float]] | None = None,
    lower: list[float] | None = None,
    upper: list[float] | None = None,
) -> list[float]:
    n = len(exact)
    table = np.array(rows, dtype=float).reshape(-1, n) if rows else np.zeros((0, n))
    m = len(table)
    return weighable(
        np.array(exact),
        np.array(original or [1000.0] * n),
        np.array(least or [0.0] * n),
        np.array(most or [np.inf] * n),
        table,
        np.array(lower or [-np.inf] * m),
        np.array(upper or [np.inf] * m),
    ).tolist()


@pytest.mark.parametrize(
    ("exact", "shown"),
    [
        (153.47, 153.0),
        (20.4, 20.0),
        (19.96, 20.0),
        (7.348, 7.3),
        (2.04, 2.0),
        (0.347, 0.35),
        (0.0, 0.0),
    ],
)
def test_steps_are_a_gram_a_tenth_and_a_hundredth(exact: float, shown: float) -> None:
    assert rounded([exact]) == [shown]


def test_rounding_goes_the_way_the_limits_allow() -> None:
    assert rounded([153.47], rows=[[0.01]], lower=[1.534]) == [154.0]
    assert rounded([153.6], rows=[[0.01]], upper=[1.5361]) == [153.0]


def test_where_whole_steps_cannot_keep_the_limits_finer_ones_do() -> None:
    assert rounded([153.47], rows=[[0.01]], lower=[1.534], upper=[1.536]) == [153.5]


def test_where_no_rounding_keeps_the_limits_the_exact_amounts_stand() -> None:
    third = 100 / 3
    assert rounded([third], rows=[[1.0]], lower=[third], upper=[third]) == [third]


def test_two_lines_that_are_held_together_move_together() -> None:
    shown = rounded(
        [100.4, 60.4], rows=[[1.0, -1.0], [0.01, 0.0]], lower=[40.0, 1.004], upper=[40.0, np.inf]
    )
    assert shown == [101.0, 61.0]


@given(
    st.lists(st.floats(0.0, 500.0), min_size=1, max_size=6),
    st.data(),
)
def test_whatever_is_asked_the_limits_hold(exact: list[float], data: st.DataObject) -> None:
    n = len(exact)
    rows = data.draw(
        st.lists(st.lists(st.floats(-1.0, 1.0), min_size=n, max_size=n), min_size=1, max_size=4)
    )
    activity = np.array(rows) @ np.array(exact)
    slack = np.array(
        data.draw(st.lists(st.floats(0.0, 5.0), min_size=len(rows), max_size=len(rows)))
    )
    shown = rounded(
        exact, rows=rows, lower=(activity - slack).tolist(), upper=(activity + slack).tolist()
    )
    now = np.array(rows) @ np.array(shown)
    assert (np.abs(now - activity) <= slack + 1e-5).all()


def test_an_answer_shows_whole_grams_where_it_can() -> None:
    brief = Brief(goals=(Goal(nutrient="energy_kcal", at_most=180.0),), holds=(BatchHold(),))
    found = answer(CREAMY, brief)
    assert all(is_multiple(mass, coarse_step(mass)) for mass in found.grams)
    assert moved(found).any()


def test_a_limit_of_a_line_does_not_take_amounts_off_the_grid() -> None:
    # 41.6 g rounds to 42, is brought back to its limit of 41.625, then moved down by a gram.
    shown = rounded(
        [41.6, 10.3],
        original=[33.3, 8.0],
        most=[41.625, np.inf],
        rows=[[1.0, 1.0]],
        upper=[51.9],
    )
    assert_weighable(
        np.array(shown), np.array([41.6, 10.3]), np.zeros(2), np.array([41.625, np.inf])
    )


def test_a_line_that_has_not_moved_keeps_its_grams_to_the_letter() -> None:
    # 1/7 oz is no decimal number of grams.
    yogurt = "yogurt-strained-nonfat"
    recipe = PAIR.with_line(Line(id=yogurt, food=yogurt, amount="1/7 oz"))
    brief = Brief(goals=(Goal(nutrient="energy_kcal", at_most=80.0),))
    locked = brief.with_line_hold(yogurt, LineHold(line=yogurt, tolerance=0.0))
    found = answer(recipe, locked)
    assert found.grams[0] < 200
    assert found.grams[1] == found.batch.grams[1]


def test_rounding_does_not_miss_a_goal_that_the_exact_amounts_meet() -> None:
    creams = (
        "sour-cream",
        "sour-cream-reduced",
        "ricotta-part-skim",
        "sour-cream-light",
        "mayonnaise-fat-free",
        "yogurt-strained-whole",
        "sour-cream-fat-free",
        "sour-cream-half-half",
    )
    recipe = Recipe(
        title="t",
        servings=1,
        lines=(
            Line(id="oil", food="oil-almond", grams=706.3),
            Line(id="jelly", food="jelly", grams=19.8, role="fat"),
            *(Line(id=food, food=food, grams=100.0) for food in creams),
            Line(id="yogurt", food="yogurt-whole", grams=0.5, role="flavouring"),
        ),
    )
    swaps = tuple(
        Swap(food=food, stands_in_for=("oil",), grams_per_gram=0.5, largest_share=0.25)
        for food in ("milk-dry-nonfat", "yogurt-low-fat", "yogurt-nonfat")
    )
    brief = Brief(
        goals=(Goal(nutrient="energy_kcal", at_most=4408.202799),),
        holds=(
            BatchHold(tolerance=0.40025),
            RatioHold(of=("jelly",), to=("oil",), tolerance=0.001),
        ),
        swaps=swaps,
        swap_band=0.401,
    )
    reach = answer(recipe, brief).reach_of("protein_g")
    assert reach is not None
    goal = Goal(nutrient="protein_g", at_most=reach.low * (1 + 1e-6))
    found = answer(recipe, brief.with_goal(goal))
    assert found.status is Status.OPTIMAL, state_sentence(found)

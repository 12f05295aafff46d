"""Published integer programs, as choices among finitely many amounts of each item."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from reformulate.optimise.choice import Options, choose
from tests.published import blends_and_diets as diets

FloatArray = NDArray[np.float64]


def whole_numbers(
    cost: list[float], matrix: FloatArray, lower: object, upper: object, least: int, most: list[int]
) -> tuple[float, list[int]]:
    """Return the least cost and the whole numbers of items that reach it."""
    m = len(matrix)
    options = [
        Options(
            grams=np.arange(least, high + 1, dtype=float),
            cost=price * np.arange(least, high + 1, dtype=float),
        )
        for price, high in zip(cost, most, strict=True)
    ]
    size = np.abs(matrix).max(axis=1)
    low = np.broadcast_to(np.asarray(lower, dtype=float), (m,)) / size
    high = np.broadcast_to(np.asarray(upper, dtype=float), (m,)) / size
    found = choose(options, matrix / size[:, None], low, high, np.ones(m), np.ones(m, dtype=int))
    assert found is not None
    assert found.proven
    assert not found.gives.any()
    return found.objective, [int(grams) for grams in found.grams]


def test_the_package_diet_in_whole_packages() -> None:
    # AMPL book, second diet model with sodium at most 50000: integer answer 119.30 with BEEF 9,
    # CHK 2, FISH 2, HAM 8, MCH 10, MTL 10, SPG 7, TUR 2 (read); sodium and energy data from memory.
    program = diets.book_diet_2(50_000)
    found, packages = whole_numbers(
        diets.BOOK_DIET_COST,
        program.matrix.toarray(),
        program.row_lower,
        program.row_upper,
        2,
        [10] * 8,
    )
    assert found == pytest.approx(119.30)
    assert dict(zip(diets.BOOK_DIET_FOODS, packages, strict=True)) == {
        "BEEF": 9,
        "CHK": 2,
        "FISH": 2,
        "HAM": 8,
        "MCH": 10,
        "MTL": 10,
        "SPG": 7,
        "TUR": 2,
    }


@pytest.mark.parametrize(("energy", "cost", "milk"), [(2000, 97.0, 5), (2200, 106.0, 6)])
def test_a_library_s_diet_in_whole_portions(energy: float, cost: float, milk: int) -> None:
    # Example of a numerical library's MILP solver (read): 97 with milk 5; 106 with milk 6 at 2200 kcal.
    matrix = np.array(
        [
            [110, 205, 160, 160, 420, 260],
            [4, 32, 13, 8, 4, 14],
            [2, 12, 54, 285, 22, 80],
        ],
        dtype=float,
    )
    found, portions = whole_numbers(
        [3, 24, 13, 9, 20, 19], matrix, [energy, 55, 800], np.inf, 0, [4, 3, 2, 8, 2, 2]
    )
    assert found == pytest.approx(cost)
    assert portions == [4, 0, 0, milk, 2, 0]


def test_tahini_by_the_tablespoon_and_yogurt_by_the_quarter_cup() -> None:
    # Worked by hand: tahini 15 g a tablespoon, 53 % fat; yogurt 61.25 g a quarter cup, 0.4 % fat;
    # batch 150 to 200 g; nearest to 20 g of fat: 2 tablespoons and 2 quarter cups, 16.39 g of fat.
    tahini, yogurt = 15.0 * np.arange(7), 61.25 * np.arange(5)
    fat = np.array([0.53, 0.004])
    best = None
    for side, sign in (("below", 1.0), ("above", -1.0)):
        # |fat - 20| on one side of 20 is linear: minimise what is missing there.
        options = [
            Options(grams=tahini, cost=5.0 - sign * 0.53 * tahini + 0.53 * tahini.max()),
            Options(grams=yogurt, cost=5.0 - sign * 0.004 * yogurt + 0.004 * yogurt.max()),
        ]
        limit = (-np.inf, 20.0) if side == "below" else (20.0, np.inf)
        found = choose(
            options,
            np.array([[1.0, 1.0], fat]),
            np.array([150.0, limit[0]]),
            np.array([200.0, limit[1]]),
            np.ones(2),
            np.ones(2, dtype=int),
        )
        assert found is not None
        assert found.proven
        off = abs(float(fat @ found.grams) - 20.0)
        if best is None or off < best[0]:
            best = off, found.grams
    assert best is not None
    assert best[0] == pytest.approx(3.61)
    assert best[1] == pytest.approx([30.0, 122.5])

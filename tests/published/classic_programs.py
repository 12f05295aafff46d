"""Small classics with published duals and ranges, and programs constructed for hand derivation."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from reformulate import LinearProgram
from tests.published.blends_and_diets import WINSTON_DIET
from tests.published.programs import INF, Published, maximise, minimise

GIAPETTO = maximise([3, 2], [[2, 1], [1, 1], [1, 0]], (-INF, 100), (-INF, 80), (-INF, 40))
WYNDOR = maximise([3, 5], [[1, 0], [0, 2], [3, 2]], (-INF, 4), (-INF, 12), (-INF, 18))
REDDY_MIKKS = maximise(
    [5, 4],
    [[6, 4], [1, 2], [-1, 1], [0, 1]],
    (-INF, 24),
    (-INF, 6),
    (-INF, 1),
    (-INF, 2),
)

CLASSICS = (
    Published(
        name="Giapetto",
        source="Winston, Operations Research: wooden toys",
        data="from memory",
        answer="from memory",
        program=GIAPETTO,
        maximised=True,
        objective=180,
        x=(20, 60),
        duals=(1, 1, 0),
    ),
    Published(
        name="Wyndor",
        source="Hillier, Lieberman, Introduction to Operations Research: glass doors",
        data="from memory",
        answer="from memory",
        program=WYNDOR,
        maximised=True,
        objective=36,
        x=(2, 6),
        duals=(0, 1.5, 1),
    ),
    Published(
        name="Reddy Mikks",
        source="Taha, Operations Research: paints",
        data="from memory",
        answer="from memory",
        program=REDDY_MIKKS,
        maximised=True,
        objective=21,
        x=(3, 1.5),
        duals=(0.75, 0.5, 0, 0),
    ),
    Published(
        name="manual of linprog",
        source="manual of SciPy's linprog, first example",
        data="from memory",
        answer="from memory",
        program=minimise([-1, 4], [[-3, 1], [1, 2]], (-INF, 6), (-INF, 4), column_lower=[-INF, -3]),
        objective=-22,
        x=(10, -3),
        duals=(0, -1),
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """How far one limit or one cost may move before the basis changes."""

    name: str
    program: LinearProgram
    maximised: bool = False
    row: int | None = None
    column: int | None = None
    low: float = -INF
    high: float = INF

    def __str__(self) -> str:
        return self.name


def _ranges(
    name: str,
    program: LinearProgram,
    rows: list[tuple[float, float]],
    columns: list[tuple[float, float]],
    *,
    maximised: bool = True,
) -> list[Range]:
    return [
        *(
            Range(
                name=f"{name}, limit {i + 1}",
                program=program,
                maximised=maximised,
                row=i,
                low=low,
                high=high,
            )
            for i, (low, high) in enumerate(rows)
        ),
        *(
            Range(
                name=f"{name}, cost {j + 1}",
                program=program,
                maximised=maximised,
                column=j,
                low=low,
                high=high,
            )
            for j, (low, high) in enumerate(columns)
        ),
    ]


# From the same books, from memory. Only optima that are not degenerate: there ranges are unique.
RANGES = (
    *_ranges("Giapetto", GIAPETTO, [(80, 120), (60, 100), (20, INF)], [(2, 4), (1.5, 3)]),
    *_ranges("Wyndor", WYNDOR, [(2, INF), (6, 18), (12, 24)], [(0, 7.5), (2, INF)]),
    *_ranges(
        "Reddy Mikks",
        REDDY_MIKKS,
        [(20, 36), (4, 20 / 3), (-1.5, INF), (1.5, INF)],
        [(2, 6), (10 / 3, 10)],
    ),
    *_ranges(
        "Winston diet",
        WINSTON_DIET,
        [(-INF, 750), (6 - 20 / 7, 10), (6, INF), (-INF, 13)],
        [(22.5, INF), (15, 115 / 3), (0, 40), (30, INF)],
        maximised=False,
    ),
)

# Winston's advertising goals (from memory): spots x1, x2, then shortfall and excess of each goal.
GOAL_ROWS: list[list[float]] = [
    [7, 3, 1, -1, 0, 0, 0, 0],
    [10, 5, 0, 0, 1, -1, 0, 0],
    [5, 4, 0, 0, 0, 0, 1, -1],
    [100, 60, 0, 0, 0, 0, 0, 0],
]
GOAL_LIMITS = ((40, 40), (60, 60), (35, 35), (-INF, 600))
SHORT = (2, 4, 6)


def advertising(
    weights: Sequence[float], most_short: Sequence[float] = (INF, INF, INF)
) -> LinearProgram:
    """Least weighted shortfall of the three goals, none shorter than ``most_short``."""
    cost, upper = np.zeros(8), np.full(8, INF)
    cost[list(SHORT)], upper[list(SHORT)] = weights, most_short
    return minimise(list(cost), GOAL_ROWS, *GOAL_LIMITS, column_upper=upper)


def two_aims(
    gain: tuple[float, float], second_at_least: float = -INF, first: float = -INF
) -> LinearProgram:
    """Mavrotas's illustration of the epsilon-constraint method (2009; from memory).

    f1 = x1, f2 = 3 x1 + 4 x2; ``gain`` weighs them; rows: resource, f2, f1.
    """
    return maximise(
        [gain[0] + 3 * gain[1], 4 * gain[1]],
        [[5, 4], [3, 4], [1, 0]],
        (-INF, 200),
        (second_at_least, INF),
        (first, INF),
        column_upper=[20, 40],
    )


def light_dip(most_fat: float) -> LinearProgram:
    """Least distance in grams from 60 g sour cream, 30 g mayonnaise, no yogurt (constructed).

    Columns: grams of the three and of a fixed 10 g flavouring, then more and less of the three.
    Rows: 100 g, fat, and what links grams to their change.
    """
    none = [0.0] * 6
    link = np.hstack([np.eye(3), np.zeros((3, 1)), -np.eye(3), np.eye(3)])
    return minimise(
        [0, 0, 0, 0, *([1.0] * 6)],
        [
            [1, 1, 1, 1, *none],
            [0.194, 0.749, 0.004, 0, *none],
            *link.tolist(),
        ],
        (100, 100),
        (-INF, most_fat),
        (60, 60),
        (30, 30),
        (0, 0),
        column_lower=[0, 0, 0, 10, *none],
        column_upper=[INF, INF, INF, 10, *([INF] * 6)],
    )


# Per gram of strained nonfat yogurt, cream cheese, chickpeas, oil (constructed).
DIP_KCAL = [0.59, 3.42, 1.39, 8.84]
DIP_PROTEIN = [0.102, 0.059, 0.070, 0]
DIP_FAT = [0.004, 0.34, 0.026, 1]
DIP_LIMITS: dict[str, tuple[list[float], tuple[float, float]]] = {
    "sum": ([1, 1, 1, 1], (100, 100)),
    "fat": (DIP_FAT, (12, INF)),
    "kcal": (DIP_KCAL, (-INF, 120)),
    "protein": (DIP_PROTEIN, (8, INF)),
}


def dip(cost: Sequence[float], *rows: str) -> LinearProgram:
    """The dip of four foods under the named rows."""
    picked = [DIP_LIMITS[row] for row in rows]
    return minimise(cost, [row for row, _ in picked], *(limits for _, limits in picked))


def protein_share_of_energy() -> LinearProgram:
    """Largest 4 protein / kcal with fat at least 6 %, by Charnes and Cooper's substitution.

    The first four columns are grams per kcal, the last is t = 1 / kcal of the batch.
    """
    return maximise(
        [*(4 * p for p in DIP_PROTEIN), 0],
        [[*DIP_KCAL, 0], [1, 1, 1, 1, -100], [*DIP_FAT, -6]],
        (1, 1),
        (0, 0),
        (0, INF),
    )

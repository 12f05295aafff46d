"""Whole trade-off curves: a published front, and fronts worked by hand.

Sources stand beside each program, with whether data and answers are published, from memory, or
worked by hand.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from reformulate.optimise.efficient import (
    Vertex,
    efficient_ratio_vertices,
    efficient_vertices,
    knee,
)
from tests.published import classic_programs as classics
from tests.published.programs import INF

FloatArray = NDArray[np.float64]


def interpolated(vertices: tuple[Vertex, ...], first: float) -> float:
    """The second objective on the curve where the first has a value."""
    return float(np.interp(first, [v.first for v in vertices], [v.second for v in vertices]))


# G. Mavrotas, Effective implementation of the e-constraint method in multi-objective mathematical
# programming problems, Applied Mathematics and Computation 213 (2009): maximise f1 = x1 and
# f2 = 3 x1 + 4 x2. Data from memory; payoff table as published; the rows between were computed.
F1, F2 = np.array([1.0, 0.0]), np.array([3.0, 4.0])


def mavrotas() -> tuple[Vertex, ...]:
    return efficient_vertices(classics.two_aims((0, 0)), -F1, -F2)


def test_the_ends_of_the_front_are_the_published_payoff_table() -> None:
    # f1 alone leaves f2 anywhere from 60 to 160: only 160 is efficient.
    found = mavrotas()
    assert [(-v.first, -v.second) for v in found] == [
        pytest.approx((20.0, 160.0)),
        pytest.approx((8.0, 184.0)),
    ]
    assert [v.x.tolist() for v in found] == [pytest.approx([20, 25]), pytest.approx([8, 40])]


def test_the_front_is_the_same_by_the_other_objective_first() -> None:
    turned = efficient_vertices(classics.two_aims((0, 0)), -F2, -F1)
    assert [(-v.first, -v.second) for v in turned] == [
        pytest.approx((184.0, 8.0)),
        pytest.approx((160.0, 20.0)),
    ]


@pytest.mark.parametrize(
    ("epsilon", "first", "x2"),
    [(160, 20, 25), (170, 15, 31.25), (175, 12.5, 34.375), (180, 10, 37.5), (184, 8, 40)],
)
def test_the_rows_of_the_epsilon_constraint_method_lie_on_the_front(
    epsilon: float, first: float, x2: float
) -> None:
    right, left = mavrotas()
    assert -interpolated((right, left), -first) == pytest.approx(epsilon)
    share = (first - left.x[0]) / (right.x[0] - left.x[0])
    assert left.x + share * (right.x - left.x) == pytest.approx([first, x2])


def test_the_slope_of_the_front_is_the_published_dual() -> None:
    right, left = mavrotas()
    assert (left.second - right.second) / (left.first - right.first) == pytest.approx(-2.0)


# The least changed light dip, constructed: 60 g sour cream (19.4 % fat), 30 g mayonnaise (74.9 %),
# no yogurt (0.4 %), 10 g flavouring that stays. Worked by hand: turning mayonnaise to yogurt takes
# 0.745 g of fat a gram and moves 2 g, until none is left; then sour cream, 0.190 g of fat a gram.

FAT = np.array([0.194, 0.749, 0.004, 0.0, *([0.0] * 6)])
DIP_CORNERS = [
    (34.11 - 30 * 0.745 - 60 * 0.190, 2 * 90.0, (0.0, 0.0, 90.0)),
    (34.11 - 30 * 0.745, 2 * 30.0, (60.0, 0.0, 30.0)),
    (34.11, 0.0, (60.0, 30.0, 0.0)),
]


def light_dip() -> tuple[Vertex, ...]:
    program = classics.light_dip(INF)
    return efficient_vertices(program, FAT, program.cost)


def test_fat_against_distance_has_the_three_corners_worked_by_hand() -> None:
    found = light_dip()
    assert len(found) == len(DIP_CORNERS)
    for vertex, (fat, distance, grams) in zip(found, DIP_CORNERS, strict=True):
        assert (vertex.first, vertex.second) == pytest.approx((fat, distance), abs=1e-9)
        assert vertex.x[:3] == pytest.approx(grams, abs=1e-9)
        assert vertex.x[3] == pytest.approx(10.0)


def test_the_knee_of_the_light_dip_is_where_the_mayonnaise_is_gone() -> None:
    assert knee(light_dip()) == 1


@pytest.mark.parametrize(
    ("fat", "distance"),
    [
        (34.11, 0),
        (30, 11.0336),
        (25, 24.4564),
        (17.055, 45.7852),
        (12, 59.3557),
        (8, 99.5789),
        (4, 141.6842),
    ],
)
def test_single_limits_on_fat_lie_on_the_curve_of_the_light_dip(
    fat: float, distance: float
) -> None:
    # The same table as for the program with a limit on fat; by hand: 2 / 0.745 and 2 / 0.190 a gram.
    assert interpolated(light_dip(), fat) == pytest.approx(distance, abs=6e-5)


def test_the_curve_of_the_light_dip_ends_where_a_limit_does() -> None:
    program = classics.light_dip(17.055)
    found = efficient_vertices(program, FAT, program.cost)
    assert (found[-1].first, found[-1].second) == pytest.approx((17.055, 45.7852), abs=6e-5)
    assert [v.first for v in found[:-1]] == pytest.approx([0.36, 11.76])


# Protein's and fat's share of energy in a dip of strained nonfat yogurt, cream cheese, chickpeas and
# oil, fat at least 6 g in 100 g; constructed. The end of most protein is the linear-fractional program
# of the same dip: 4 protein / kcal = 0.3653824 at 94.377510 g yogurt and 5.622490 g oil.


def shares_of_energy() -> tuple[Vertex, ...]:
    rows = classics.dip([0.0] * 4, "sum", "fat")
    program = replace(rows, row_lower=np.array([100.0, 6.0]))
    protein, fat, kcal = (
        np.array(values) for values in (classics.DIP_PROTEIN, classics.DIP_FAT, classics.DIP_KCAL)
    )
    return efficient_ratio_vertices(program, -4 * protein, 0.0, -9 * fat, 0.0, kcal, 0.0)


def test_the_curve_of_two_shares_starts_at_the_largest_share_of_protein() -> None:
    found = shares_of_energy()
    assert -found[0].first == pytest.approx(0.3653824, abs=6e-8)
    assert found[0].x == pytest.approx([94.377510, 0, 0, 5.622490], abs=6e-7)
    # By hand: nothing but oil has the largest share of fat, 9 / 8.84 by the general factor.
    assert -found[-1].second == pytest.approx(9 / 8.84)
    assert found[-1].x == pytest.approx([0, 0, 0, 100])


def test_mixtures_of_two_foods_lie_on_a_straight_line_between_their_shares() -> None:
    # By hand: shares of energy of a mixture are means weighted by energy, and the two foods at the
    # ends are those of the only edge of the four points that faces more protein and more fat.
    found = shares_of_energy()
    assert len(found) == 2
    yogurt, oil = (np.array([4 * 0.102, 9 * 0.004]) / 0.59, np.array([0.0, 9 / 8.84]))
    for vertex in found:
        energy = np.array([0.59, 8.84]) * vertex.x[[0, 3]]
        mean = (energy[0] * yogurt + energy[1] * oil) / energy.sum()
        assert (-vertex.first, -vertex.second) == pytest.approx(tuple(mean))

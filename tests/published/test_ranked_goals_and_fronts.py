"""Several aims at once, and recipe-shaped programs, as linear programs.

Sources stand beside each program, with whether data and answer were read in a public source, are
from memory, or were constructed.
"""

from __future__ import annotations

import pytest

from reformulate import second_opinion
from tests.published import classic_programs as classics
from tests.published.programs import INF, least, optimum

# Goal programming: Winston's advertising example (data and answers from memory).


def test_weighted_goals_fall_short_where_published() -> None:
    found = optimum(classics.advertising((200, 100, 50)))
    assert found.objective == pytest.approx(250)
    assert found.x == pytest.approx([6, 0, 0, 2, 0, 0, 5, 0])
    assert second_opinion(classics.advertising((200, 100, 50))) == pytest.approx(250)


@pytest.mark.parametrize(
    ("order", "short", "spots"),
    [
        ((0, 1, 2), (0, 0, 5), (6, 0)),
        ((0, 2, 1), (0, 5 / 3, 10 / 3), (5, 5 / 3)),
        ((2, 1, 0), (4, 5, 0), (3, 5)),
    ],
)
def test_ranked_goals_fall_short_where_published(
    order: tuple[int, ...], short: tuple[float, ...], spots: tuple[float, ...]
) -> None:
    most = [INF, INF, INF]
    for goal in order:
        weights = [float(i == goal) for i in range(3)]
        found = optimum(classics.advertising(tuple(weights), tuple(most)))
        # Room for float error only: an exact zero may cut off the optimum it came from.
        most[goal] = found.objective + 1e-9
    assert found.x[list(classics.SHORT)] == pytest.approx(short, abs=1e-6)
    assert found.x[:2] == pytest.approx(spots, abs=1e-6)


@pytest.mark.parametrize("goal", range(3))
def test_each_goal_alone_can_be_met(goal: int) -> None:
    assert least(classics.advertising([float(i == goal) for i in range(3)])) == pytest.approx(0)


# The epsilon-constraint method: Mavrotas 2009 (data from memory, payoff table as published).


def test_the_payoff_table_needs_the_second_stage() -> None:
    first = -least(classics.two_aims((1, 0)))
    assert first == pytest.approx(20)
    assert -least(classics.two_aims((0, 1), first=first)) == pytest.approx(160)
    # Without that stage, f1 alone leaves f2 anywhere from 60.
    assert least(classics.two_aims((0, -1), first=first)) == pytest.approx(60)
    second = -least(classics.two_aims((0, 1)))
    assert second == pytest.approx(184)
    assert -least(classics.two_aims((1, 0), second_at_least=second)) == pytest.approx(8)


@pytest.mark.parametrize(
    ("epsilon", "first", "x2"),
    [(160, 20, 25), (170, 15, 31.25), (175, 12.5, 34.375), (180, 10, 37.5), (184, 8, 40)],
)
def test_the_front_runs_through_the_published_points(
    epsilon: float, first: float, x2: float
) -> None:
    found = optimum(classics.two_aims((1, 0), second_at_least=epsilon))
    assert found.x == pytest.approx([first, x2])
    assert second_opinion(classics.two_aims((1, 0), second_at_least=epsilon)) == pytest.approx(
        -first
    )


@pytest.mark.parametrize(("first", "slope"), [(4.0, 0.0), (9.0, -2.0), (14.0, -2.0), (19.0, -2.0)])
def test_the_slope_of_the_front_is_the_dual_of_its_row(first: float, slope: float) -> None:
    found = optimum(classics.two_aims((0, 1), first=first))
    assert -found.row_duals[2] == pytest.approx(slope)


# Recipe-shaped programs, constructed; the duals are derived by hand.


@pytest.mark.parametrize(
    ("fat", "distance", "grams", "dual"),
    [
        (34.11, 0, (60, 30, 0), None),  # the original itself: degenerate
        (30, 11.0336, (60, 24.483, 5.517), -2 / 0.745),
        (25, 24.4564, (60, 17.772, 12.228), -2 / 0.745),
        (17.055, 45.7852, (60, 7.107, 22.893), -2 / 0.745),
        (12, 59.3557, (60, 0.322, 29.678), -2 / 0.745),
        (8, 99.5789, (40.211, 0, 49.789), -2 / 0.190),
        (4, 141.6842, (19.158, 0, 70.842), -2 / 0.190),
    ],
)
def test_the_least_changed_light_dip_is_the_one_derived_by_hand(
    fat: float, distance: float, grams: tuple[float, ...], dual: float | None
) -> None:
    program = classics.light_dip(fat)
    found = optimum(program)
    assert found.objective == pytest.approx(distance, abs=6e-5)
    assert found.x[:3] == pytest.approx(grams, abs=6e-4)
    assert second_opinion(program) == pytest.approx(found.objective, abs=1e-6)
    if dual is not None:
        assert found.row_duals[1] == pytest.approx(dual)


def test_the_largest_protein_share_of_energy_is_found_as_a_program() -> None:
    # Charnes and Cooper's substitution (1962): grams = columns / t.
    program = classics.protein_share_of_energy()
    found = optimum(program)
    assert -found.objective == pytest.approx(0.3653824, abs=6e-8)
    grams = found.x[:4] / found.x[4]
    assert grams == pytest.approx([94.377510, 0, 0, 5.622490], abs=6e-7)
    assert grams @ classics.DIP_KCAL == pytest.approx(105.386, abs=6e-4)
    assert grams @ classics.DIP_PROTEIN == pytest.approx(9.626506, abs=6e-7)
    assert -second_opinion(program) == pytest.approx(0.3653824, abs=1e-6)

"""One option for each item: the nearest within every limit, as other solvers and every choice have it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.optimise import choice_growth
from reformulate.optimise.choice import NoChoice, Options, choose
from tests.optimise.choice_cases import (
    TWO,
    Case,
    best_of_all,
    by_cbc,
    by_scipy,
    cases,
    drawn,
    every_choice,
    options,
    outside,
    two,
)


@pytest.fixture(scope="module", params=[200, 3], ids=["usual room", "hardly any room"])
def room(request: pytest.FixtureRequest) -> Any:
    """With little room for partial choices, even small cases have to be split in parts."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(choice_growth, "WIDTH", request.param)
        yield request.param


# Against every choice there is.


@pytest.mark.usefixtures("room")
@given(case=cases())
def test_no_choice_gives_less_or_costs_less_for_as_little(case: Case) -> None:
    found, best = case.chosen(), best_of_all(case)
    assert best is not None
    gives = tuple(float(found.gives[case.gives == level].sum()) for level in (1, 2))
    assert (*gives, found.objective) == pytest.approx(best, abs=1e-7)
    assert found.proven
    assert found.bound == pytest.approx(found.objective, abs=1e-7)


@given(case=cases())
def test_what_is_told_of_a_choice_is_true_of_its_grams(case: Case) -> None:
    found = case.chosen()
    pairs = list(zip(case.options, found.pick.tolist(), strict=True))
    assert found.grams.tolist() == [one.grams[at] for one, at in pairs]
    assert found.objective == pytest.approx(sum(one.cost[at] for one, at in pairs), abs=1e-9)
    misses = [float(miss) for miss in outside(case, found)]
    assert found.gives.tolist() == pytest.approx(np.array(misses) / case.size, abs=1e-9)


@given(case=cases(), most=st.integers(0, 5))
def test_no_more_than_so_many_are_used_of_the_items_that_count(case: Case, most: int) -> None:
    counted = np.arange(0, len(case.options), 2)
    picks, cost, missed = every_choice(case)
    grams = np.stack([one.grams[picks[:, i]] for i, one in enumerate(case.options)], -1)
    allowed = (grams[:, counted] > 0).sum(axis=1) <= most
    kept = allowed & ~missed.any(axis=1)
    if not (allowed & ~missed[:, case.gives == 0].any(axis=1)).any():
        with pytest.raises(NoChoice):
            case.choose(at_most_used=(counted, most))
        return
    found = case.chosen(at_most_used=(counted, most))
    assert np.count_nonzero(found.grams[counted] > 0) <= most
    if kept.any():
        assert not found.gives.any()
        assert found.objective == pytest.approx(cost[kept].min(), abs=1e-7)
    else:
        assert found.gives.any()


@given(case=cases(may_conflict=False))
def test_equal_input_gives_an_equal_choice_that_keeps_every_limit(case: Case) -> None:
    found = case.chosen()
    assert max(outside(case, found), default=0) <= Fraction(1e-9)
    assert not found.gives.any()
    assert case.chosen().pick.tolist() == found.pick.tolist()


@given(case=cases(), kept=st.lists(st.integers(0, 5), min_size=5, max_size=5))
def test_wider_options_are_taken_before_any_limit_gives_way(case: Case, kept: list[int]) -> None:
    near = tuple(
        Options(grams=one.grams[:many], cost=one.cost[:many])
        for one, many in zip(case.options, [number + 1 for number in kept], strict=False)
    )
    narrow = replace(case, options=near)
    asked = []

    def wider() -> tuple[Options, ...]:
        asked.append(True)
        return case.options

    _, cost, missed = every_choice(narrow)
    within = cost[~missed.any(axis=1)]
    _, far_cost, far_missed = every_choice(case)
    far = far_cost[~far_missed.any(axis=1)]
    keeps = within if len(within) else far
    best = (0.0, 0.0, keeps.min()) if len(keeps) else best_of_all(narrow)
    if best is None:
        with pytest.raises(NoChoice):
            narrow.choose()
        return
    found = narrow.chosen(wider=wider)
    gives = tuple(float(found.gives[case.gives == level].sum()) for level in (1, 2))
    assert (*gives, found.objective) == pytest.approx(best, abs=1e-7)
    assert bool(asked) is not bool(len(within))
    assert found.is_wider is (not len(within) and bool(len(far)))
    # The narrower options are the first ones of the wider.
    pairs = zip(case.options, found.pick.tolist(), strict=True)
    assert found.grams.tolist() == [one.grams[at] for one, at in pairs]


# Against other solvers.


def assert_least(case: Case, expected: float | None) -> None:
    found = case.chosen()
    assert found.proven
    if expected is None:
        assert found.gives.any()
    else:
        assert found.objective == pytest.approx(expected, abs=1e-6)
        assert max(outside(case, found)) <= Fraction(1e-9)


@pytest.mark.usefixtures("room")
@given(seed=st.integers(0, 10**6))
def test_scipy_finds_the_same_least_cost(seed: int) -> None:
    case = drawn(seed, items=8, rows=5, amounts=12)
    assert_least(case, by_scipy(case))


@given(seed=st.integers(0, 10**6))
def test_cbc_finds_the_same_least_cost(seed: int) -> None:
    case = drawn(seed, items=6, rows=3, amounts=10)
    assert_least(case, by_cbc(case))


@pytest.mark.parametrize("seed", range(4))
def test_a_recipe_of_fifteen_lines_is_proven_best_as_scipy_has_it(seed: int) -> None:
    case = drawn(seed, items=15, rows=8, amounts=40)
    assert_least(case, by_scipy(case))


# By hand.


def test_tablespoons_of_tahini_and_quarter_cups_of_yogurt_worked_by_hand() -> None:
    # Tahini 15 g a tablespoon, 53 % fat; yogurt 61.25 g a quarter of a cup, 0.4 % fat; a batch of 150
    # to 200 g, fat as near to 20 g as can be. 2 tbsp and 2 quarters: 152.5 g, 15.90 + 0.49 = 16.39 g of
    # fat, 3.61 off. 3 and 2: 24.34 g, 4.34 off. With 3 quarters at most 1 tbsp: 8.685 g. With fewer
    # than 2 quarters 6 tbsp or more: above 47 g.
    spoons, quarters = [15.0 * n for n in range(14)], [61.25 * n for n in range(4)]
    case = Case(
        options=options((spoons, [0.0] * 14), (quarters, [0.0] * 4)),
        rows=np.array([[1.0, 1.0], [0.53, 0.004]]),
        lower=np.array([150.0, 20.0]),
        upper=np.array([200.0, 20.0]),
        size=np.array([175.0, 1.0]),
        gives=np.array([0, 1]),
    )
    found = case.chosen()
    assert found.pick.tolist() == [2, 2]
    assert found.grams.sum() == 152.5
    assert found.gives.tolist() == pytest.approx([0.0, 3.61], abs=1e-9)
    assert found.proven


def test_without_limits_each_item_takes_its_cheapest_option() -> None:
    nothing = Case(
        options=TWO,
        rows=np.zeros((0, 2)),
        lower=np.zeros(0),
        upper=np.zeros(0),
        size=np.zeros(0),
        gives=np.zeros(0, dtype=int),
    )
    for case in (nothing, two(-np.inf, np.inf)):
        assert case.chosen().pick.tolist() == [1, 1]
        assert case.chosen().objective == 0.0


def test_a_limit_may_be_met_to_the_letter_but_not_missed_by_a_solvers_dust() -> None:
    assert two(-np.inf, 30.0).chosen().grams.tolist() == [20.0, 10.0]
    # A millionth is what solvers let pass in integer programs.
    assert two(-np.inf, 30.0 - 1e-7).chosen().grams.tolist() == [20.0, 5.0]
    assert two(30.0 + 1e-7, np.inf).chosen().grams.tolist() == [20.0, 15.0]


def test_a_hold_that_cannot_be_kept_gives_as_little_as_it_can() -> None:
    # 30 g is nearest and 2.3 g short, 35 g is 2 g over.
    found = two(32.3, 33.0).chosen()
    assert found.grams.sum() == 35.0
    assert found.gives.tolist() == pytest.approx([0.2], abs=1e-9)
    assert found.objective == 0.25


def test_however_little_a_hold_gives_it_is_told() -> None:
    found = two(30.0001, 34.0).chosen()
    assert found.grams.sum() == 30.0
    assert found.gives.tolist() == pytest.approx([0.00001], abs=1e-9)


def test_what_two_limits_miss_together_is_no_less_than_what_one_misses_alone() -> None:
    # At least 1.5 and at most 0.75: 0.5 misses the one by 1.0, and 1 misses both by 0.5 and 0.25.
    # As fractions of their sizes each comes to 1, so that the cost alone tells them apart, not the
    # billionth by which either limit may be missed.
    case = Case(
        options=options(([0.0, 0.5, 1.0], [0.0, 0.0, 0.0625])),
        rows=np.array([[1.0], [1.0]]),
        lower=np.array([-np.inf, 1.5]),
        upper=np.array([0.75, np.inf]),
        size=np.array([0.5, 1.0]),
        gives=np.array([1, 1]),
    )
    found = case.chosen()
    assert found.pick.tolist() == [1]
    assert found.gives.sum() == 1.0
    assert found.proven


def test_goals_give_before_holds_however_much_it_takes() -> None:
    # The hold wants 45 g in all, the goal no more than 15 g.
    case = Case(
        options=TWO,
        rows=np.ones((2, 2)),
        lower=np.array([45.0, -np.inf]),
        upper=np.array([np.inf, 15.0]),
        size=np.array([0.1, 100.0]),
        gives=np.array([1, 2]),
    )
    assert case.chosen().gives.tolist() == pytest.approx([0.0, 0.3])
    turned = Case(
        options=case.options,
        rows=case.rows,
        lower=case.lower,
        upper=case.upper,
        size=case.size,
        gives=case.gives[::-1],
    )
    assert turned.chosen().gives.tolist() == pytest.approx([300.0, 0.0])


def test_a_limit_that_never_gives_is_not_given_up() -> None:
    with pytest.raises(NoChoice, match="never give way"):
        two(46.0, np.inf, gives=0).choose()


@pytest.mark.parametrize("those", [(), options(([1.0], [0.0]), ([], []))])
def test_an_item_without_options_is_refused(those: tuple[Options, ...]) -> None:
    with pytest.raises(ValueError, match="needs an option"):
        choose(
            those,
            np.ones((1, len(those))),
            np.zeros(1),
            np.ones(1),
            np.ones(1),
            np.zeros(1, dtype=int),
        )

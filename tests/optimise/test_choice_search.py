"""The search for a choice: its bounds hold for every choice, and it can be given up at any time."""

from __future__ import annotations

from threading import Event
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from reformulate.optimise import choice_growth
from reformulate.optimise.choice_bound import Relaxation
from reformulate.optimise.choice_growth import grow
from reformulate.optimise.choice_task import Task
from tests.optimise.choice_cases import Case, cases, drawn, every_choice, two

FloatArray = NDArray[np.float64]


@st.composite
def tasks(draw: st.DrawFn) -> tuple[Case, Task]:
    """A case as a task: rows of level 1 may be missed at a price, those of level 2 up to a sum."""
    case = draw(cases())
    price = draw(st.sampled_from([0.25, 2.0]))
    most = draw(st.sampled_from([0.5, 4.0]))
    counts = np.array([len(one.grams) for one in case.options], dtype=int)
    item = np.repeat(np.arange(len(counts)), counts)
    grams = np.concatenate([one.grams for one in case.options])
    cost = np.concatenate([one.cost for one in case.options])
    soft, shared = case.gives == 1, case.gives == 2
    return case, Task(
        first=np.cumsum(counts) - counts,
        item=item,
        grams=grams,
        cost=cost,
        guide=cost,
        adds=case.rows[:, item] * grams,
        lower=case.lower,
        upper=case.upper,
        price=np.where(soft, price, np.where(shared, 0.0, np.inf)),
        shares=(shared / case.size)[None],
        most=np.array([most]),
    )


def values(case: Case, task: Task) -> tuple[Any, FloatArray]:
    """(c, n) every choice, (c,) what it costs by the task, misses included; inf if not allowed."""
    picks, cost, missed = every_choice(case)
    musts = case.gives == 0
    soft = missed[:, case.gives == 1] @ task.price[case.gives == 1]
    allowed = ~missed[:, musts].any(axis=1) & (missed @ task.shares[0] <= task.most[0])
    return picks, np.where(allowed, cost + soft, np.inf)


@given(these=tasks(), closed=st.integers(0, 2**30))
def test_prices_prove_no_more_than_is_true_of_every_choice(
    these: tuple[Case, Task], closed: int
) -> None:
    case, task = these
    is_open = np.array([not closed >> i & 1 for i in range(len(task.cost))])
    is_open[task.first] = True
    prices = Relaxation(task).prices(is_open)
    picks, cost = values(case, task)
    excess = prices.excess[task.first + picks].sum(axis=1)
    among_open = np.isfinite(excess)
    assert (cost[among_open] >= prices.bound + excess[among_open] - 1e-9).all()
    assert among_open.sum() == np.prod(np.add.reduceat(is_open, task.first, dtype=int))


@pytest.mark.parametrize("room", [200, 2])
@given(these=tasks(), below=st.sampled_from([np.inf, 1.0, 3.0]))
def test_what_growing_finds_is_a_choice_and_what_it_drops_costs_no_less(
    room: int, these: tuple[Case, Task], below: float
) -> None:
    case, task = these
    is_open = np.ones(len(task.cost), dtype=bool)
    limit = min(below, task.dearest() + 1.0)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(choice_growth, "WIDTH", room)
        grown = grow(task, is_open, Relaxation(task).prices(is_open), limit)
    picks, cost = values(case, task)
    best = min(float(cost.min()), limit)
    assert min(grown.bound, grown.cost, limit) <= best + 1e-9
    if grown.pick is not None:
        assert task.value(grown.pick) == pytest.approx(grown.cost, abs=1e-9)
        at = int(np.flatnonzero((picks == grown.pick).all(axis=1))[0])
        assert grown.cost == pytest.approx(cost[at], abs=1e-9)
    if np.isinf(grown.bound):
        assert min(grown.cost, limit) == pytest.approx(best, abs=1e-9)


@given(these=tasks())
def test_no_choice_costs_more_than_the_dearest(these: tuple[Case, Task]) -> None:
    case, task = these
    _, cost = values(case, task)
    assert cost[np.isfinite(cost)].max(initial=0.0) <= task.dearest() + 1e-9


def test_a_choice_nobody_waits_for_is_given_up() -> None:
    nobody_waits = Event()
    assert two(0.0, 30.0).choose(stop=nobody_waits.is_set) is not None
    nobody_waits.set()
    assert two(0.0, 30.0).choose(stop=nobody_waits.is_set) is None
    assert two(31.0, 34.0).choose(stop=nobody_waits.is_set) is None


@given(seed=st.integers(0, 10**6), looks=st.integers(1, 30))
def test_a_choice_can_be_given_up_at_any_look(seed: int, looks: int) -> None:
    case, asked = drawn(seed, items=8, rows=5, amounts=12), 0

    def stop() -> bool:
        nonlocal asked
        asked += 1
        return asked > looks

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(choice_growth, "WIDTH", 2)
        found = case.choose(stop=stop)
        if found is None:
            assert asked == looks + 1
        else:
            assert asked <= looks
            assert found.pick.tolist() == case.chosen().pick.tolist()


@given(seed=st.integers(0, 10**6))
def test_when_time_is_up_the_best_so_far_comes_with_a_bound_that_holds(seed: int) -> None:
    case = drawn(seed, items=8, rows=4, amounts=12)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(choice_growth, "WIDTH", 4)
        hurried = case.chosen(seconds=0.0)
    best = case.chosen()
    gives, least = (
        [float(found.gives[case.gives == level].sum()) for level in (1, 2)]
        for found in (hurried, best)
    )
    assert hurried.bound <= hurried.objective + 1e-9
    assert gives[0] >= least[0] - 1e-7
    if gives[0] <= least[0] + 1e-7:
        assert gives[1] >= least[1] - 1e-7
    if gives == pytest.approx(least, abs=1e-7):
        assert hurried.bound <= best.objective + 1e-7 <= hurried.objective + 2e-7
    if hurried.proven:
        assert gives == pytest.approx(least, abs=1e-7)
        assert hurried.objective == pytest.approx(best.objective, abs=1e-7)

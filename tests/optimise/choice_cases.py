"""Choices to be made, and what other solvers and trying every choice say of them."""

from __future__ import annotations

import warnings
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import numpy as np
import pulp
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp

from reformulate.optimise.choice import Choice, Options, choose

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int_]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Case:
    """What `choose` is given. Grams, costs and rows are sums of powers of 1/2: no sum is rounded."""

    options: tuple[Options, ...]
    rows: FloatArray
    lower: FloatArray
    upper: FloatArray
    size: FloatArray
    gives: IntArray

    def choose(self, **wanted: Any) -> Choice | None:
        return choose(
            self.options, self.rows, self.lower, self.upper, self.size, self.gives, **wanted
        )

    def chosen(self, **wanted: Any) -> Choice:
        found = self.choose(**wanted)
        assert found is not None
        return found


def options(*amounts: tuple[list[float], list[float]]) -> tuple[Options, ...]:
    return tuple(Options(grams=np.array(g), cost=np.array(c)) for g, c in amounts)


@st.composite
def cases(draw: st.DrawFn, *, may_conflict: bool = True) -> Case:
    """A few items and rows; the rows that never give way, or all, hold for some choice."""
    n, m = draw(st.integers(1, 5)), draw(st.integers(0, 4))
    quarters = st.lists(st.integers(0, 40), min_size=1, max_size=6, unique=True)
    amounts = []
    for _ in range(n):
        grams = sorted(draw(quarters))
        cost = draw(st.lists(st.integers(0, 20), min_size=len(grams), max_size=len(grams)))
        amounts.append(([g / 4 for g in grams], [c / 16 for c in cost]))
    those = options(*amounts)
    kept = np.array([draw(st.sampled_from(one.grams.tolist())) for one in those])
    entry = st.integers(-4, 4).map(lambda quarters: quarters / 4)
    rows = np.array(
        draw(st.lists(st.lists(entry, min_size=n, max_size=n), min_size=m, max_size=m))
    ).reshape(m, n)
    gives = draw(st.lists(st.integers(0, 2), min_size=m, max_size=m))
    room = st.one_of(st.integers(0, 12).map(lambda quarters: quarters / 4), st.just(np.inf))
    off = [draw(st.integers(-20, 20)) / 4 if may_conflict and level else 0.0 for level in gives]
    middle = rows @ kept + np.array(off)
    return Case(
        options=those,
        rows=rows,
        lower=middle - [draw(room) for _ in gives],
        upper=middle + [draw(room) for _ in gives],
        size=np.array(draw(st.lists(st.sampled_from([0.5, 1.0, 4.0]), min_size=m, max_size=m))),
        gives=np.array(gives, dtype=int),
    )


def drawn(seed: int, items: int, rows: int, amounts: int) -> Case:
    """A case of recipe size: exact amounts that keep every limit, and options around them."""
    random = np.random.default_rng(seed)
    exact = np.round(random.lognormal(3.0, 1.0, items)) + 1.0
    those = []
    for grams in exact:
        steps = np.sort(random.choice(np.arange(4, 61), random.integers(1, amounts + 1), False))
        at = grams * steps / 32
        scoops = random.integers(1, 6, len(at)) / 256
        those.append(Options(grams=at, cost=np.abs(at - grams) / grams + scoops))
    entries = random.integers(-4, 9, (rows, items)) / 8
    middle = entries @ exact
    room = np.maximum(np.round(np.abs(entries) @ exact / 50), 0.5)
    side = random.integers(0, 3, rows)
    return Case(
        options=tuple(those),
        rows=entries,
        lower=np.where(side == 0, -np.inf, middle - room),
        upper=np.where(side == 1, np.inf, middle + room),
        size=np.maximum(np.abs(middle), 1.0),
        gives=random.integers(1, 3, rows),
    )


def every_choice(case: Case) -> tuple[IntArray, FloatArray, FloatArray]:
    """(c, n) every choice there is, (c,) its cost, (c, m) how far each row is outside its limits."""
    counts = [len(one.grams) for one in case.options]
    picks = np.stack(np.meshgrid(*map(np.arange, counts), indexing="ij"), -1).reshape(
        -1, len(counts)
    )
    grams = np.stack([one.grams[picks[:, i]] for i, one in enumerate(case.options)], -1)
    cost = sum(one.cost[picks[:, i]] for i, one in enumerate(case.options))
    sums = grams @ case.rows.T
    return picks, np.asarray(cost), np.maximum(np.maximum(case.lower - sums, sums - case.upper), 0)


def best_of_all(case: Case) -> tuple[float, float, float] | None:
    """The least that rows of level 1 give, then those of level 2, then the least cost."""
    _, cost, missed = every_choice(case)
    allowed = ~missed[:, case.gives == 0].any(axis=1)
    if not allowed.any():
        return None
    gives = [(missed / case.size)[:, case.gives == level].sum(axis=1) for level in (1, 2)]
    return min(zip(gives[0][allowed], gives[1][allowed], cost[allowed], strict=True))


def by_scipy(case: Case) -> float | None:
    """The least cost with every limit kept, by SciPy's solver; None where none keeps them."""
    item = np.repeat(np.arange(len(case.options)), [len(one.grams) for one in case.options])
    grams = np.concatenate([one.grams for one in case.options])
    once = (np.arange(len(case.options))[:, None] == item).astype(float)
    found = milp(
        np.concatenate([one.cost for one in case.options]),
        constraints=[
            LinearConstraint(case.rows[:, item] * grams, case.lower, case.upper),
            LinearConstraint(once, 1, 1),
        ],
        integrality=1,
        bounds=Bounds(0, 1),
        options={"mip_rel_gap": 0},
    )
    assert found.status in (0, 2), found.message
    return float(found.fun) if found.status == 0 else None


def by_cbc(case: Case) -> float | None:
    """The same written as sentences in PuLP and solved by CBC."""
    problem = pulp.LpProblem("choice", pulp.LpMinimize)
    takes = [
        [problem.add_variable(f"x{i}_{k}", cat="Binary") for k in range(len(one.grams))]
        for i, one in enumerate(case.options)
    ]
    pairs = list(zip(case.options, takes, strict=True))
    problem += pulp.lpSum(
        c * t for one, take in pairs for c, t in zip(one.cost.tolist(), take, strict=True)
    )
    grams = [
        pulp.lpSum(g * t for g, t in zip(one.grams.tolist(), take, strict=True))
        for one, take in pairs
    ]
    for take in takes:
        problem += pulp.lpSum(take) == 1
    for row, low, high in zip(case.rows.tolist(), case.lower, case.upper, strict=True):
        total = pulp.lpSum(a * g for a, g in zip(row, grams, strict=True))
        if np.isfinite(low):
            problem += total >= float(low)
        if np.isfinite(high):
            problem += total <= float(high)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)
        status = problem.solve(pulp.PULP_CBC_CMD(msg=False, gapRel=0.0, gapAbs=0.0))
    if pulp.LpStatus[status] != "Optimal":
        assert pulp.LpStatus[status] == "Infeasible"
        return None
    return float(pulp.value(problem.objective) or 0.0)


def outside(case: Case, choice: Choice) -> list[Fraction]:
    """How far each row is outside its limits, in exact arithmetic."""
    grams = [Fraction(float(g)) for g in choice.grams]
    found = []
    for row, low, high in zip(case.rows.tolist(), case.lower, case.upper, strict=True):
        total = sum((Fraction(a) * g for a, g in zip(row, grams, strict=True)), Fraction(0))
        short = Fraction(float(low)) - total if np.isfinite(low) else Fraction(0)
        over = total - Fraction(float(high)) if np.isfinite(high) else Fraction(0)
        found.append(max(short, over, Fraction(0)))
    return found


TWO = options(([10.0, 20.0, 30.0], [0.5, 0.0, 0.5]), ([5.0, 10.0, 15.0], [0.25, 0.0, 0.25]))


def two(lower: float, upper: float, *, gives: int = 1) -> Case:
    """Two items whose sum is limited; 30 g is nearest."""
    return Case(
        options=TWO,
        rows=np.ones((1, 2)),
        lower=np.array([lower]),
        upper=np.array([upper]),
        size=np.array([10.0]),
        gives=np.array([gives]),
    )

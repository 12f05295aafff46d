"""How the deeper questions grow with the number of lines, beside the bare programs they need.

Run: ``python -m pytest tests/benchmarks --benchmark-only --benchmark-disable-gc``.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import cycle
from pathlib import Path
from statistics import median
from time import perf_counter

import pytest

from reformulate import (
    Conflict,
    FoodTable,
    Optimiser,
    explore,
    find_conflict,
    food_table,
    read_release,
    search_table,
    trade_off,
    what_gives,
)
from reformulate.foods import quantities_of
from reformulate.optimise.engine import solve_program
from reformulate.optimise.items import collect_items
from reformulate.optimise.model import build_model
from tests.benchmarks.problem import FOODS
from tests.benchmarks.sized import SIZES, sized

RELEASE = Path(__file__).parents[3] / "shared" / "data" / "sr28" / "abbrev.csv"


def seconds(call: Callable[[], object], rounds: int = 5) -> float:
    """Return the median time of a call [s]."""
    times = []
    for _ in range(rounds):
        start = perf_counter()
        call()
        times.append(perf_counter() - start)
    return median(times)


def bare(lines: int, energy: float = 85.0) -> float:
    """Return how long the brief's one program takes from cold [s]."""
    batch, brief = sized(lines, energy)
    program = build_model(collect_items(batch, brief, FOODS), brief, batch.recipe).program
    return seconds(lambda: solve_program(program))


@pytest.mark.benchmark(group="depth")
@pytest.mark.parametrize("lines", SIZES)
def test_an_answer_with_its_reaches(benchmark: object, report: list[str], lines: int) -> None:
    batch, brief = sized(lines)
    optimiser = Optimiser(batch, brief, FOODS)
    optimiser.answer(brief)
    moves = cycle([replace(brief.goals[0], at_most=energy) for energy in (85, 84, 83, 82)])
    found = benchmark.pedantic(  # type: ignore[attr-defined]
        lambda: optimiser.answer(brief.with_goal(next(moves))), rounds=20
    )
    assert found.certificate.holds
    _tell(benchmark, report, f"re-solve and 16 reaches, {lines} lines", bare(lines))


@pytest.mark.benchmark(group="depth")
@pytest.mark.parametrize("lines", SIZES)
def test_a_conflict(benchmark: object, report: list[str], lines: int) -> None:
    batch, brief = sized(lines, 5.0)
    found = benchmark.pedantic(  # type: ignore[attr-defined]
        lambda: find_conflict(batch, brief, FOODS), rounds=3
    )
    assert isinstance(found, Conflict)
    _tell(benchmark, report, f"conflict with ways out, {lines} lines", bare(lines, 5.0))


@pytest.mark.benchmark(group="depth")
@pytest.mark.parametrize("lines", SIZES)
def test_an_exact_curve(benchmark: object, report: list[str], lines: int) -> None:
    batch, brief = sized(lines)
    found = benchmark.pedantic(  # type: ignore[attr-defined]
        lambda: trade_off(batch, brief, FOODS, "energy_kcal", "protein_g"), rounds=3
    )
    assert len(found.points) > 2
    words = f"curve of energy and protein ({len(found.points)} corners), {lines} lines"
    _tell(benchmark, report, words, bare(lines))


@pytest.mark.benchmark(group="depth")
@pytest.mark.parametrize("lines", SIZES)
def test_what_gives(benchmark: object, report: list[str], lines: int) -> None:
    batch, brief = sized(lines)
    found = benchmark.pedantic(  # type: ignore[attr-defined]
        lambda: what_gives(batch, brief, FOODS), rounds=1
    )
    assert found
    _tell(benchmark, report, f"what gives ({len(found)} limits), {lines} lines", bare(lines))


@pytest.mark.benchmark(group="depth")
def test_exploring_swaps(benchmark: object, report: list[str]) -> None:
    batch, brief = sized(12)
    found = benchmark.pedantic(  # type: ignore[attr-defined]
        lambda: explore(batch, brief, FOODS, brief.swaps), rounds=3
    )
    assert len(found) == len(brief.swaps)
    _tell(benchmark, report, f"{len(found)} swaps explored, 12 lines", bare(12))


@pytest.fixture(scope="module")
def release() -> FoodTable:
    if not RELEASE.exists():
        pytest.skip("the public release is not beside the checkout")
    return food_table().merged(read_release(RELEASE))


@pytest.mark.benchmark(group="depth")
@pytest.mark.parametrize("lines", SIZES)
def test_the_whole_table(
    benchmark: object, report: list[str], lines: int, release: FoodTable
) -> None:
    batch, brief = sized(lines)
    quantities_of(release)
    found = benchmark.pedantic(  # type: ignore[attr-defined]
        lambda: search_table(batch, brief, release, ("cream-cheese",)), rounds=3
    )
    assert len(found.found) == 10
    values = quantities_of(release)[0]
    weights = values[:40].T.copy()
    once = seconds(lambda: values @ weights)
    needed = once + found.solved * bare(lines)
    spent = benchmark.stats.stats.median  # type: ignore[attr-defined]
    report.append(
        f"whole table of {found.priced} foods, {lines} lines / one matrix pass and {found.solved} "
        f"cold programs: {spent / needed:.2f} (goal 3 or less); {spent * 1e3:.0f} ms (goal 1000)"
    )


def _tell(benchmark: object, report: list[str], words: str, one: float) -> None:
    spent = benchmark.stats.stats.median  # type: ignore[attr-defined]
    report.append(f"{words} / one cold program: {spent / one:.0f}; {spent * 1e3:.1f} ms")

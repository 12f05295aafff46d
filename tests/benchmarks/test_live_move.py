"""A live move, against the bare solver and against the same problems written plainly.

Run: ``python -m pytest tests/benchmarks --benchmark-only --benchmark-disable-gc``. Figures are ratios
within one run on one machine; nothing here fails for being slow.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import cycle
from statistics import median

import highspy
import numpy as np
import pytest

from reformulate import Optimiser
from reformulate.optimise import engine as engine_module
from reformulate.optimise.second_opinion import second_opinion
from tests.benchmarks.problem import BATCH, BRIEF, FOODS, MOVES, moved

Call = tuple[int, str, tuple[object, ...]]


class _Recorder:
    """Notes what each engine is told, so that it can be told to a bare solver again."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.programs: list[object] = []
        self.calls: list[Call] = []
        numbers: dict[int, int] = {}
        original = engine_module.Engine.__init__

        def init(engine: engine_module.Engine, program: object) -> None:
            original(engine, program)  # type: ignore[arg-type]
            numbers[id(engine)] = len(self.programs)
            self.programs.append(program)

        monkeypatch.setattr(engine_module.Engine, "__init__", init)
        for name in ("set_row_limits", "set_column_limits", "value"):
            monkeypatch.setattr(engine_module.Engine, name, self._noting(name, numbers))

    def _noting(self, name: str, numbers: dict[int, int]) -> Callable[..., object]:
        method = getattr(engine_module.Engine, name)

        def noting(engine: engine_module.Engine, *arguments: object) -> object:
            self.calls.append((numbers[id(engine)], name, arguments))
            return method(engine, *arguments)

        return noting


@pytest.fixture
def recorded(monkeypatch: pytest.MonkeyPatch) -> tuple[list[object], list[list[Call]]]:
    """The programs of a live optimiser, and what it tells them in each of the moves."""
    with monkeypatch.context() as patch:
        recorder = _Recorder(patch)
        optimiser = Optimiser(BATCH, BRIEF, FOODS)
        moves = []
        for limit in MOVES:
            recorder.calls.clear()
            optimiser.answer(moved(limit))
            moves.append(list(recorder.calls))
    return recorder.programs, moves


def _bare(program: object) -> highspy.Highs:
    return engine_module.Engine(program)._highs  # type: ignore[arg-type, no-any-return]


def _tell(solvers: list[highspy.Highs], calls: list[Call]) -> None:
    for number, name, arguments in calls:
        solver = solvers[number]
        if name == "value":
            solver.run()
        elif name == "set_row_limits":
            rows, lower, upper = arguments
            solver.changeRowsBounds(len(rows), rows, lower, upper)  # type: ignore[arg-type]
        else:
            lower, upper = arguments
            columns = np.arange(len(lower), dtype=np.int32)  # type: ignore[arg-type]
            solver.changeColsBounds(len(columns), columns, lower, upper)


@pytest.mark.benchmark(group="live move")
def test_a_live_move(benchmark: object, report: list[str], recorded: object) -> None:
    programs, moves = recorded  # type: ignore[misc]
    optimiser = Optimiser(BATCH, BRIEF, FOODS)
    briefs = cycle([moved(limit) for limit in MOVES])
    solvers = [_bare(program) for program in programs]
    told = cycle(moves)
    bare: list[float] = []
    timer = benchmark._timer  # type: ignore[attr-defined]

    def beside() -> tuple[tuple[object, ...], dict[str, object]]:
        # One bare move before each live one: both see the same machine.
        calls = next(told)
        start = timer()
        _tell(solvers, calls)
        bare.append(timer() - start)
        return (next(briefs),), {}

    answer = benchmark.pedantic(  # type: ignore[attr-defined]
        optimiser.answer, setup=beside, rounds=len(MOVES) * 3, warmup_rounds=20
    )
    assert answer.certificate.holds
    assert len(answer.reach) == 8
    live = benchmark.stats.stats.median  # type: ignore[attr-defined]
    runs = sum(name == "value" for _, name, _ in moves[0])
    report.append(
        f"live move ({runs} warm LPs: 2 stages, 16 reaches) / bare solver on the same LPs: "
        f"{live / median(bare):.2f} (goal 1.5 or less); medians {live * 1e3:.2f} and "
        f"{median(bare) * 1e3:.2f} ms"
    )


@pytest.mark.benchmark(group="live move")
def test_the_same_problems_written_plainly(
    benchmark: object, report: list[str], recorded: object
) -> None:
    programs, _ = recorded  # type: ignore[misc]
    once = [programs[0], *programs[2:]]
    benchmark.pedantic(  # type: ignore[attr-defined]
        lambda: [second_opinion(program) for program in once], rounds=3
    )
    plain = benchmark.stats.stats.median  # type: ignore[attr-defined]
    optimiser = Optimiser(BATCH, BRIEF, FOODS)
    timer = benchmark._timer  # type: ignore[attr-defined]
    live = []
    for limit in MOVES:
        brief = moved(limit)
        start = timer()
        optimiser.answer(brief)
        live.append(timer() - start)
    report.append(
        f"{len(once)} problems in PuLP with CBC / live move: {plain / median(live):.0f} "
        f"(goal 20 or more); {plain * 1e3:.0f} ms"
    )

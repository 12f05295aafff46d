"""A whole trade-off curve, against the bare solver on the programs the curve needs.

Run: ``python -m pytest tests/benchmarks --benchmark-only --benchmark-disable-gc``. Figures are ratios
within one run on one machine; nothing here fails for being slow.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from statistics import median
from typing import Any

import numpy as np
import pytest

from reformulate import (
    NUTRIENTS,
    ROLES,
    SYSTEMS,
    BatchHold,
    Brief,
    Line,
    LinearProgram,
    RatioHold,
    Recipe,
    weigh_recipe,
)
from reformulate.optimise import engine as engine_module
from reformulate.optimise.efficient import efficient_ratio_vertices, efficient_vertices
from reformulate.optimise.items import collect_items
from reformulate.optimise.model import Model, build_model
from tests.benchmarks.problem import BATCH, BRIEF, FOODS

Call = tuple[int, str, tuple[Any, ...]]

SIZES = (12, 30, 100, 300)
"""Lines of the recipes [count]; the one of 12 is the dip that all benchmarks share."""

ENERGY = [nutrient.key for nutrient in NUTRIENTS].index("energy_kcal")
PROTEIN = [nutrient.key for nutrient in NUTRIENTS].index("protein_g")


def _model(lines: int) -> Model:
    if lines == len(BATCH.recipe.lines):
        # No goal on energy: it is what the curve is about.
        brief = replace(BRIEF, goals=BRIEF.goals[1:])
        return build_model(collect_items(BATCH, brief, FOODS), brief, BATCH.recipe)
    random = np.random.default_rng(lines)
    keys = [food.key for food in FOODS]
    picked = random.choice(len(keys), lines, replace=lines > len(keys))
    recipe = Recipe(
        title="Drawn",
        servings=10,
        lines=tuple(
            Line(
                id=f"line-{i}",
                food=keys[food],
                grams=round(float(random.lognormal(3.0, 1.5)), 1) + 0.1,
                role=ROLES[i % len(ROLES)],
            )
            for i, food in enumerate(picked)
        ),
    )
    holds = (
        BatchHold(),
        RatioHold(of=("role:inclusion",), to=("role:base",)),
        RatioHold(of=("role:flavouring",), to=("role:base",)),
    )
    brief = Brief(holds=holds)
    batch = weigh_recipe(recipe, FOODS, SYSTEMS["us"])
    return build_model(collect_items(batch, brief, FOODS), brief, recipe)


def _against_closeness(model: Model) -> Callable[[], int]:
    """Energy of the batch against the least change."""
    energy = model.items.per_gram[:, ENERGY] @ model.to_grams
    moved = np.abs(model.to_grams).sum(axis=0)

    def curve() -> int:
        program = model.program
        return len(efficient_vertices(program, energy, program.cost, tie_break=moved))

    return curve


def _per_100_grams(model: Model) -> Callable[[], int]:
    """Energy against protein, both per 100 g."""
    items = model.items
    sums = (items.per_gram[:, ENERGY], -items.per_gram[:, PROTEIN], items.yields / 100.0)
    parts: list[Any] = [
        part for s in sums for part in (s @ model.to_grams, float(s @ items.original))
    ]

    def curve() -> int:
        program = model.program
        return len(efficient_ratio_vertices(program, *parts, tie_break=program.cost))

    return curve


class _Recorder:
    """Notes what each engine is told, so that it can be told to a bare solver again."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.programs: list[LinearProgram] = []
        self.calls: list[Call] = []
        self._numbers: dict[int, int] = {}
        self._engines: list[engine_module.Engine] = []  # kept, so that no id comes twice
        original = engine_module.Engine.__init__

        def init(engine: engine_module.Engine, program: LinearProgram) -> None:
            original(engine, program)
            self._numbers[id(engine)] = len(self.programs)
            self._engines.append(engine)
            self.programs.append(program)

        monkeypatch.setattr(engine_module.Engine, "__init__", init)
        for name in ("set_row_limits", "set_column_limits", "set_cost", "value"):
            monkeypatch.setattr(engine_module.Engine, name, self._noting(name))

    def _noting(self, name: str) -> Callable[..., object]:
        method = getattr(engine_module.Engine, name)

        def noting(engine: engine_module.Engine, *arguments: object) -> object:
            self.calls.append((self._numbers[id(engine)], name, arguments))
            return method(engine, *arguments)

        return noting


def _tell(solvers: list[Any], calls: list[Call]) -> None:
    for number, name, arguments in calls:
        solver = solvers[number]
        if name == "value":
            solver.run()
        elif name == "set_row_limits":
            rows, lower, upper = arguments
            solver.changeRowsBounds(len(rows), rows, lower, upper)
        elif name == "set_column_limits":
            lower, upper = arguments
            columns = np.arange(len(lower), dtype=np.int32)
            solver.changeColsBounds(len(columns), columns, lower, upper)
        else:
            (cost,) = arguments
            columns = np.arange(len(cost), dtype=np.int32)
            solver.changeColsCost(len(columns), columns, cost)


@pytest.mark.benchmark(group="trade-off curve")
@pytest.mark.parametrize("kind", [_against_closeness, _per_100_grams])
@pytest.mark.parametrize("lines", SIZES)
def test_a_whole_curve(
    benchmark: object,
    report: list[str],
    monkeypatch: pytest.MonkeyPatch,
    lines: int,
    kind: Callable[[Model], Callable[[], int]],
) -> None:
    curve = kind(_model(lines))
    with monkeypatch.context() as patch:
        recorder = _Recorder(patch)
        count = curve()
    assert count > 2
    bare: list[float] = []
    timer = benchmark._timer  # type: ignore[attr-defined]

    def beside() -> None:
        # The bare programs before each curve, from cold as the curve itself: both see the same machine.
        start = timer()
        solvers = [engine_module.Engine(program)._highs for program in recorder.programs]
        _tell(solvers, recorder.calls)
        bare.append(timer() - start)

    found = benchmark.pedantic(  # type: ignore[attr-defined]
        curve, setup=beside, rounds=15 if lines < 100 else 5, warmup_rounds=1
    )
    assert found == count
    whole = benchmark.stats.stats.median  # type: ignore[attr-defined]
    runs = sum(name == "value" for _, name, _ in recorder.calls)
    report.append(
        f"{kind.__doc__} {lines} lines, {count} vertices, {runs} LPs: whole curve / bare solver on "
        f"the same LPs: {whole / median(bare):.2f}; medians {whole * 1e3:.1f} and "
        f"{median(bare) * 1e3:.1f} ms"
    )

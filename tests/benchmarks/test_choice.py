"""A choice of amounts to measure, against a bare integer program of the same and against 100 ms.

Run: ``python -m pytest tests/benchmarks --benchmark-only --benchmark-disable-gc``. Figures are ratios
within one run on one machine; nothing here fails for being slow.
"""

from __future__ import annotations

from itertools import cycle
from pathlib import Path
from statistics import median
from typing import Any

import highspy
import numpy as np
import pytest
from scipy.sparse import csc_array

from reformulate import SYSTEMS, Goal, Optimiser, food_table, nutrition_of, read_set, weigh_recipe
from reformulate.foods import QUANTITY_INDEX
from reformulate.optimise import measured
from reformulate.optimise.choice import choose
from tests.benchmarks.problem import BATCH, BRIEF, FOODS, moved

ALLOWED = 0.1
"""What a choice for a recipe of 15 lines may take [s]."""

SET = Path(__file__).resolve().parents[2] / "sample_sets" / "harvest-evening"

SHARES = (0.97, 0.9, 0.8, 0.7)
"""Goals on energy, beside the original."""

Given = tuple[tuple[Any, ...], dict[str, Any]]


class _Told(Exception):  # noqa: N818
    """Raised in place of choosing."""


@pytest.fixture
def given(monkeypatch: pytest.MonkeyPatch) -> dict[str, list[Given]]:
    """What is to be chosen for the demo's recipes, and for the dip that all benchmarks share."""
    found: dict[str, list[Given]] = {"demo recipes": [], "26 items": []}

    def told(*arguments: object, **named: object) -> None:
        raise _Told(arguments, named)

    with monkeypatch.context() as patch:
        patch.setattr(measured, "choose", told)
        for name, optimiser, briefs in _problems():
            for brief in briefs:
                with pytest.raises(_Told) as raised:
                    measured.measured_answer(optimiser.answer(brief, reach=False), SYSTEMS["us"])
                arguments, named = raised.value.args
                found[name].append((arguments, {**named, "stop": None}))
    return found


def _problems() -> list[tuple[str, Optimiser, list[Any]]]:
    problems = [("26 items", Optimiser(BATCH, BRIEF, FOODS), [moved(e) for e in (165, 145, 125)])]
    foods = food_table()
    for document in read_set(SET).documents:
        batch = weigh_recipe(document.recipe, foods, SYSTEMS["us"])
        energy = float(nutrition_of(batch).per_serving[QUANTITY_INDEX["energy_kcal"]])
        goals = [Goal(nutrient="energy_kcal", at_most=round(energy * share)) for share in SHARES]
        optimiser = Optimiser(batch, document.brief.with_goal(goals[0]), foods)
        problems.append(
            ("demo recipes", optimiser, [document.brief.with_goal(goal) for goal in goals])
        )
    return problems


def _integer_program(given: Given) -> highspy.Highs:
    """Return the whole of it as one integer program: a column an option, none left out."""
    (options, rows, lower, upper, *_), named = given
    item = np.repeat(np.arange(len(options)), [len(one.grams) for one in options])
    grams = np.concatenate([one.grams for one in options])
    matrix = [rows[:, item] * grams, np.arange(len(options))[:, None] == item]
    low, high = [lower, np.ones(len(options))], [upper, np.ones(len(options))]
    if named["at_most_used"] is not None:
        items, most = named["at_most_used"]
        matrix.append((np.isin(item, items) & (grams > 0.0))[None])
        low, high = [*low, [-np.inf]], [*high, [most]]
    sparse = csc_array(np.vstack(matrix).astype(float))
    program = highspy.HighsLp()
    program.num_row_, program.num_col_ = sparse.shape
    program.col_cost_ = np.concatenate([one.cost for one in options])
    program.col_lower_, program.col_upper_ = np.zeros(len(grams)), np.ones(len(grams))
    program.row_lower_, program.row_upper_ = np.concatenate(low), np.concatenate(high)
    program.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    program.a_matrix_.start_, program.a_matrix_.index_ = sparse.indptr, sparse.indices
    program.a_matrix_.value_ = sparse.data
    program.integrality_ = [highspy.HighsVarType.kInteger] * len(grams)
    solver = highspy.Highs()  # type: ignore[no-untyped-call]
    solver.setOptionValue("output_flag", False)
    for option, value in (("threads", 1), ("mip_rel_gap", 0.0), ("mip_abs_gap", 1e-9)):
        solver.setOptionValue(option, value)
    solver.passModel(program)
    return solver


@pytest.mark.benchmark(group="choice")
@pytest.mark.parametrize("name", ["demo recipes", "26 items"])
def test_a_choice(
    benchmark: object, report: list[str], given: dict[str, list[Given]], name: str
) -> None:
    problems, bare, choices = cycle(given[name]), [], []
    timer = benchmark._timer  # type: ignore[attr-defined]

    def beside() -> tuple[tuple[Given], dict[str, object]]:
        # The bare program before each choice: both see the same machine.
        problem = next(problems)
        start = timer()
        solver = _integer_program(problem)
        solver.run()
        bare.append(timer() - start)
        kept = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
        choices.append(solver.getInfo().objective_function_value if kept else None)
        return (problem,), {}

    def choice(problem: Given) -> float:
        arguments, named = problem
        found = choose(*arguments, **named)
        assert found is not None
        assert found.proven
        expected = choices[-1]
        assert found.gives.any() if expected is None else not found.gives.any()
        assert expected is None or found.objective == pytest.approx(expected, abs=1e-6)
        return found.objective

    benchmark.pedantic(  # type: ignore[attr-defined]
        choice, setup=beside, rounds=2 * len(given[name]), warmup_rounds=1
    )
    taken = benchmark.stats.stats.sorted_data  # type: ignore[attr-defined]
    late = taken[int(0.95 * len(taken))]
    report.append(
        f"choice, {name}, {len(given[name])} problems / bare integer program of the same: "
        f"{median(taken) / median(bare):.2f} (goal below 1); / {1e3 * ALLOWED:.0f} ms: median "
        f"{median(taken) / ALLOWED:.2f}, 95th percentile {late / ALLOWED:.2f} (goal below 1); medians "
        f"{median(taken) * 1e3:.1f} and {median(bare) * 1e3:.1f} ms"
    )

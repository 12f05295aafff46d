"""Loading the food table, and writing household amounts."""

from __future__ import annotations

from pathlib import Path
from time import perf_counter

import pytest

from reformulate import SYSTEMS, food_table, household
from reformulate.foods import table as table_module

LIMIT = 30.0
"""What loading the table may take [ms]."""


@pytest.mark.benchmark(group="tables")
def test_loading_the_food_table(benchmark: object, report: list[str]) -> None:
    load = table_module.food_table.__wrapped__
    benchmark.pedantic(load, rounds=20, warmup_rounds=2)  # type: ignore[attr-defined]
    took = benchmark.stats.stats.median * 1e3  # type: ignore[attr-defined]
    files = [Path(table_module.__file__).with_name(n) for n in ("table.csv", "measures.csv")]
    start = perf_counter()
    for file in files:
        for line in file.read_text("utf-8").splitlines():
            line.split(",")
    plain = (perf_counter() - start) * 1e3
    report.append(
        f"loading {len(food_table())} foods / splitting the same files at their commas: "
        f"{took / plain:.1f}; of the {LIMIT:.0f} ms allowed: {took / LIMIT:.2f}; {took:.1f} ms"
    )


@pytest.mark.benchmark(group="tables")
def test_writing_household_amounts(benchmark: object) -> None:
    foods = [food for food in food_table() if food.measures][:40]
    masses = [1.0 + 3.7 * step for step in range(100)]

    def write() -> None:
        for food in foods:
            for grams in masses:
                household(grams, food.measures, SYSTEMS["us"])

    benchmark.pedantic(write, rounds=10, warmup_rounds=1)  # type: ignore[attr-defined]

"""Reading ingredient lines that others have marked, against the time there is for them."""

from __future__ import annotations

import pytest

from reformulate.recipes.reading import read_line
from tests.recipes.corpus import DEFAULT, read_marked

ALLOWED = 0.2e-3
"""A line: a pasted recipe of fifty is read anew within one hundredth of a second [s]."""


@pytest.mark.skipif(not DEFAULT.exists(), reason="the marked lines lie beside the repository")
def test_reading_a_line(benchmark: object, report: list[str]) -> None:
    lines = [line.line for line in read_marked(DEFAULT)]
    found = benchmark.pedantic(  # type: ignore[attr-defined]
        lambda: [read_line(line) for line in lines], rounds=5
    )
    assert len(found) == len(lines)
    one = benchmark.stats.stats.median / len(lines)  # type: ignore[attr-defined]
    report.append(
        f"reading a line / the {ALLOWED * 1e3} ms allowed: {one / ALLOWED:.2f}; "
        f"{1 / one:,.0f} lines a second"
    )

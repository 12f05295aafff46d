"""Lines invented for this project, as home cooks, magazines and sites of several countries write them.

They were written, with what is expected, before the reader saw any of them; of 14 the expectation
was changed afterwards, to how a corpus marks such words or to the way amounts are written here.
``invented_lines.csv`` says what each line means: its number or range, its unit (as a recipe holds
it, or as written where household measures have none), its foods joined by "|", and the amount, ""
where a person must say it. ``invented_marked.tsv`` has the columns of a marked corpus.
"""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from reformulate.recipes.reading import read_line
from tests.recipes.corpus import figures, read_marked

HERE = Path(__file__).parent


def rows() -> list[dict[str, str]]:
    with (HERE / "invented_lines.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def numbers(text: str) -> float | tuple[float, ...] | None:
    """Reckon what the table says without the reader: "1/2", "2-3"."""
    ends = tuple(float(Fraction(end)) for end in text.split("-") if end)
    return ends[0] if len(ends) == 1 else ends or None


@pytest.mark.parametrize("row", rows(), ids=lambda row: row["line"])
def test_an_invented_line_gives_the_quantity_unit_foods_and_amount_that_it_means(
    row: dict[str, str],
) -> None:
    line = read_line(row["line"])
    assert line.quantity == pytest.approx(numbers(row["quantity"]))
    assert (line.unit or line.unit_text.lower()) == row["unit"]
    assert " | ".join(line.foods) == row["food"]
    assert line.amount == row["amount"]
    assert line.amount or line.asks


def test_invented_lines_in_the_columns_of_a_corpus_reach_the_goals_of_the_corpus() -> None:
    found = figures(read_marked(HERE / "invented_marked.tsv"))
    assert found.lines == 180
    assert found.quantity >= 0.98
    assert found.unit >= 0.97
    assert found.food >= 0.98

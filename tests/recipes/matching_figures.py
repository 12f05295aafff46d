"""How well ingredient names are matched to foods: ``python -m tests.recipes.matching_figures``.

``common_names.csv`` holds 300 names as cooks write them with the foods that are right ("" where
the table has none, so that only a question is right). The first half ("before") was written before
the matcher; the second ("after") with the matcher written, before it was first run on them.

On that first run the second half had 128 of 130 right at first place, 129 of 130 among three, none
wrong without a question, and 34 of 150 asked. What it showed has been put right since, so that
today's figures for it are those of names the matcher has seen.
"""

from __future__ import annotations

import csv
import sys
import time
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from reformulate.foods import FoodTable, food_table
from reformulate.recipes.matching import match_food
from reformulate.recipes.reading import read_line

NAMES = Path(__file__).with_name("common_names.csv")
CORPUS = Path(__file__).parents[3] / "shared" / "data" / "tasteset_dev" / "lines.tsv"


@dataclass(frozen=True)
class Named:
    name: str
    right: frozenset[str]
    batch: str


@dataclass(frozen=True)
class Figures:
    names: int
    with_food: int
    first: int
    """Names with a food whose best candidate is right."""
    among_three: int
    wrong: tuple[str, ...]
    """Answered wrongly without a question."""
    asked: int
    asked_with_food: int


def names() -> list[Named]:
    with NAMES.open(encoding="utf-8", newline="") as file:
        return [
            Named(row["name"], frozenset(filter(None, row["food"].split(";"))), row["batch"])
            for row in csv.DictReader(file)
        ]


def measure(rows: Iterable[Named], foods: FoodTable) -> Figures:
    total = with_food = first = among_three = asked = asked_with_food = 0
    wrong = []
    for row in rows:
        match = match_food(row.name, foods)
        found = [one.food for one in match.ranked]
        total += 1
        with_food += bool(row.right)
        first += bool(row.right.intersection(found[:1]))
        among_three += bool(row.right.intersection(found[:3]))
        asked += not match.sure
        asked_with_food += bool(row.right) and not match.sure
        if match.sure and match.food not in row.right:
            wrong.append(f"{row.name} -> {match.food}")
    return Figures(total, with_food, first, among_three, tuple(wrong), asked, asked_with_food)


def corpus_lines() -> list[str]:
    with CORPUS.open(encoding="utf-8", newline="") as file:
        rows = csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE)
        return [row["line"] for row in rows]


def milliseconds_a_line(lines: Sequence[str], foods: FoodTable) -> list[float]:
    """Processor time of matching each line once it is read, sorted [ms]."""
    read = [read_line(line) for line in lines]
    for line in read[:50]:
        match_food(line, foods)
    times = []
    for line in read:
        started = time.process_time()
        match_food(line, foods)
        times.append(1000.0 * (time.process_time() - started))
    return sorted(times)


def _said(title: str, found: Figures) -> str:
    def share(count: int, of: int) -> str:
        return f"{count}/{of} = {count / of:.1%}"

    return "\n".join(
        [
            f"{title}: {found.names} names, {found.with_food} of them with a food in the table",
            f"  right food first          {share(found.first, found.with_food)}",
            f"  right food among three    {share(found.among_three, found.with_food)}",
            f"  wrong without a question  {share(len(found.wrong), found.names)}",
            f"  asked                     {share(found.asked, found.names)}"
            f" (of those with a food {share(found.asked_with_food, found.with_food)})",
            *(f"    wrong: {one}" for one in found.wrong),
        ]
    )


def _print(text: str) -> None:
    sys.stdout.write(text + "\n")


def main() -> None:
    foods = food_table()
    rows = names()
    for batch in ("before", "after"):
        _print(_said(batch, measure([row for row in rows if row.batch == batch], foods)))
    _print(_said("all", measure(rows, foods)))
    if CORPUS.exists():
        lines = corpus_lines()
        sure = sum(match_food(line, foods).sure for line in lines)
        times = milliseconds_a_line(lines, foods)
        _print(
            f"corpus lines: {sure}/{len(lines)} = {sure / len(lines):.1%} answered without a question;"
            f" {times[len(times) // 2]:.2f} ms a line in the middle,"
            f" {times[int(0.95 * len(times))]:.2f} ms at the 95th percentile"
        )


if __name__ == "__main__":
    main()

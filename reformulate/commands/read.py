"""``reformulate read``: what a recipe file, a saved page or bare ingredient lines say."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator, Sequence
from itertools import groupby
from pathlib import Path
from typing import Any

from reformulate.errors import BadInput, Problem
from reformulate.foods import food_table
from reformulate.measures import SYSTEMS
from reformulate.recipes.taking_in import (
    Intake,
    IntakeLine,
    Source,
    read_source_file,
    summary_of,
    take_in,
)
from reformulate.recipes.taking_in.offers import grams_said


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command and what it takes."""
    parser = commands.add_parser(
        "read",
        help="read a recipe from text, a saved page or bare ingredient lines",
        description="Reads a recipe and says which food each line means, what it weighs and what "
        "only a person can say. Nothing is fetched from the network.",
        epilog="Exit code 0: read; 2: the file cannot be read.",
    )
    parser.add_argument("file", type=Path, metavar="FILE", help="text, .html or .json")
    parser.add_argument(
        "--lines", action="store_true", help="take every line of the file as an ingredient line"
    )
    parser.add_argument(
        "--recipe", type=int, metavar="N", help="which recipe, where the page holds several"
    )
    parser.add_argument(
        "--measures", choices=tuple(SYSTEMS), default="us", help="whose cups and spoons are meant"
    )
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(options: argparse.Namespace) -> int:
    """Read a file and print what it says."""
    found = read_source_file(options.file, lines_only=options.lines)
    source = _chosen(found, options.recipe, str(options.file))
    intake = take_in(source, food_table(), SYSTEMS[options.measures])
    if options.lines:
        # One entry a row: a row that looks like a heading is an ingredient line here as well.
        written = _by_row(source, intake)
    else:
        written = [[line] for line in intake.lines]
    if options.json:
        print(json.dumps(_as_json(intake, written), indent=2, ensure_ascii=False, allow_nan=False))
        return 0
    _print(intake, written)
    return 0


def _chosen(found: Sequence[Source], number: int | None, name: str) -> Source:
    titles = "; ".join(f"{i} {one.title or 'without a title'}" for i, one in enumerate(found, 1))
    if number is None:
        if len(found) > 1:
            words = f"{name} holds {len(found)} recipes, the first is read: {titles}."
            print(f"{words} Choose another with --recipe.", file=sys.stderr)
        return found[0]
    if not 1 <= number <= len(found):
        count = f"{len(found)} recipe{'s' if len(found) != 1 else ''}"
        raise BadInput(Problem(name, f"holds {count}.", f"Choose one of: {titles}."))
    return found[number - 1]


def _by_row(source: Source, intake: Intake) -> list[list[IntakeLine]]:
    """Return the foods of each row; none for one that only heads others."""
    foods = iter(
        list(group) for _, group in groupby(intake.lines, key=_Rows())
    )
    return [[] if row.heading else next(foods) for row in source.lines]


class _Rows:
    """Numbers the rows that lines come from: each row's first food has part 0."""

    def __init__(self) -> None:
        self._row = 0

    def __call__(self, line: IntakeLine) -> int:
        self._row += line.part == 0
        return self._row


def _as_json(intake: Intake, written: Sequence[Sequence[IntakeLine]]) -> dict[str, Any]:
    return {
        "title": intake.title,
        "servings": intake.servings,
        "lines": [_line_as_json(foods) for foods in written],
        "steps": list(intake.steps),
    }


def _line_as_json(foods: Sequence[IntakeLine]) -> dict[str, Any]:
    first = foods[0]
    read = first.read
    quantity = list(read.quantity) if isinstance(read.quantity, tuple) else read.quantity
    return {
        "text": read.text.strip(),
        "quantity": quantity,
        "unit": read.unit_text,
        "food_text": read.food_text,
        "prep": first.prep,
        "food": first.food or None,
        "confidence": first.match.ranked[0].confidence if first.match.ranked else 0.0,
        "grams": first.grams,
        "asks": list(_asks(foods)),
    }


def _asks(foods: Sequence[IntakeLine]) -> Iterator[str]:
    for line in foods:
        if line.part:
            amount = f", {line.amount}" if line.amount else ""
            yield f"It names a further food: {line.name}{amount}."
        for question in line.questions:
            yield f"{question.words} {question.why}".strip()


def _print(intake: Intake, written: Sequence[Sequence[IntakeLine]]) -> None:
    serves = f"serves {intake.servings:g}" if intake.servings else "servings not said"
    if intake.title or intake.steps:
        print(f"{intake.title or 'Without a title'}: {serves}\n")
    for line in (line for foods in written for line in foods):
        mark = " " if line.sure else "?"
        grams = grams_said(line.grams) if line.grams is not None else "not known"
        print(f"{mark} {line.read.text.strip():<48.48} {line.food or '-':<32} {grams:>10}")
        for words in (*line.said, *(f"{q.words} {q.why}".strip() for q in line.questions)):
            print(f"    {words}")
    for number, step in enumerate(intake.steps, 1):
        print(f"\n{number}. {step}")
    print(f"\n{summary_of(intake)}.")
    for note in intake.notes:
        print(note)

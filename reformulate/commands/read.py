"""``reformulate read``: what a recipe file, a saved page or bare ingredient lines say."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from reformulate.errors import BadInput, Problem
from reformulate.foods import food_table
from reformulate.measures import SYSTEMS
from reformulate.recipes.reading import ReadLine
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
    if options.json:
        rows = _by_row(source, intake) if options.lines else _by_food(intake)
        lines = [_line_as_json(read, foods) for read, foods in rows]
        found_all = {
            "title": intake.title,
            "servings": intake.servings,
            "lines": lines,
            "steps": list(intake.steps),
        }
        print(json.dumps(found_all, indent=2, ensure_ascii=False, allow_nan=False))
        for note in intake.notes:  # the data has no place for them
            print(note, file=sys.stderr)
        return 0
    _print(intake)
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


Row = tuple[ReadLine, Sequence[IntakeLine]]
"""A line as read, and the foods it names."""


def _by_row(source: Source, intake: Intake) -> list[Row]:
    """Return every row as written with its foods; one that heads others names none."""
    foods: list[list[IntakeLine]] = []
    for line in intake.lines:
        if line.part == 0:
            foods.append([])
        foods[-1].append(line)
    of_row = iter(foods)
    return [(read, [] if read.heading else next(of_row)) for read in source.lines]


def _by_food(intake: Intake) -> list[Row]:
    """Return every food by itself: the second of "salt and pepper" is a line of its own."""
    return [(line.read, [line]) for line in intake.lines]


def _line_as_json(read: ReadLine, foods: Sequence[IntakeLine]) -> dict[str, Any]:
    quantity = list(read.quantity) if isinstance(read.quantity, tuple) else read.quantity
    first = foods[0] if foods else None
    ranked = first.match.ranked if first else ()
    return {
        "text": read.text,
        "quantity": quantity,
        "unit": read.unit_text,
        "food_text": read.food_text,
        "prep": read.prep,
        "food": first.food or None if first else None,
        "confidence": ranked[0].confidence if ranked else 0.0,
        "grams": first.grams if first else None,
        "asks": list(_asks(foods)),
    }


def _asks(foods: Sequence[IntakeLine]) -> Iterator[str]:
    if not foods:
        yield "It reads as a heading: is it an ingredient?"
    for place, line in enumerate(foods):
        if place:
            amount = f", {line.amount}" if line.amount else ""
            yield f"It names a further food: {line.name}{amount}."
        for question in line.questions:
            yield f"{question.words} {question.why}".strip()


def _print(intake: Intake) -> None:
    serves = f"serves {intake.servings:g}" if intake.servings else "servings not said"
    if intake.title or intake.steps:
        print(f"{intake.title or 'Without a title'}: {serves}\n")
    for line in intake.lines:
        mark = " " if line.sure else "?"
        grams = grams_said(line.grams) if line.grams is not None else "not known"
        print(f"{mark} {line.read.text.strip():<48.48} {line.food or '-':<32} {grams:>10}")
        for words in (*line.said, *(f"{q.words} {q.why}".strip() for q in line.questions)):
            print(f"    {words}")
    for number, step in enumerate(intake.steps, 1):
        print(f"\n{number}. {step}")
    print(f"\n{summary_of(intake)}")
    for note in intake.notes:
        print(note)

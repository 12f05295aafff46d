"""Reading a recipe file, or all that is wrong with it at once."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any, TypeVar

import msgspec
from msgspec import Struct
from msgspec.structs import asdict

from reformulate.brief import (
    BatchHold,
    Brief,
    CharacterHold,
    Goal,
    Hold,
    LineHold,
    RatioHold,
    RoleHold,
    Swap,
    brief_problems,
    starting_brief,
)
from reformulate.errors import BadInput, Problem
from reformulate.recipes import Line, Recipe
from reformulate.recipes.batch import recipe_problems
from reformulate.sets.documents import Document
from reformulate.sets.faults import format_problem, near_misses, shape_problems
from reformulate.sets.ids import line_ids
from reformulate.sets.loading import load
from reformulate.sets.schema import (
    BatchHoldRecord,
    BriefRecord,
    CharacterHoldRecord,
    HoldRecord,
    LineHoldRecord,
    RatioHoldRecord,
    RecipeRecord,
)

R = TypeVar("R", bound=Struct)


def read_document(path: Path) -> Document:
    """Read one recipe file.

    Whether its foods are in the table is not checked here.

    Raises
    ------
    FileProblem
        If the file cannot be had, or is not UTF-8 text, or not TOML.
    BadInput
        If what it says must be put right; every problem names the file and the key.
    """
    path = Path(path)
    return document_from(load(path), path)


def document_from(data: dict[str, Any], path: Path) -> Document:
    """Make a document of a recipe file's TOML data; BadInput with all that is wrong with it."""
    record = record_from(data, RecipeRecord, path.name)
    recipe = _recipe(record)
    brief = starting_brief(recipe) if record.brief is None else _brief(record.brief)
    document = Document(path=path, recipe=recipe, brief=brief)
    problems = list(document_problems(document))
    if problems:
        raise BadInput([*problems, *near_misses(data, RecipeRecord, path.name)])
    return document


def document_problems(document: Document) -> Iterator[Problem]:
    """Yield what must be put right in a document before it can stand in a file."""
    name = document.path.name
    for number, line in enumerate(document.recipe.lines, start=1):
        if not line.food.strip():
            yield Problem(
                f"{name}, line {number}, food",
                "is empty, expected the key of a food.",
                "Write the key of a food in the table, or 'ndb:' and a number.",
            )
        elif not line.id or line.id.startswith("role:"):
            yield Problem(
                f"{name}, line {number}, id",
                f"found '{line.id}'.",
                "Expected a name that does not begin with 'role:'.",
            )
    for problem in recipe_problems(document.recipe):
        yield Problem(f"{name}, {problem.where}", problem.what, problem.fix)
    for problem in brief_problems(document.brief, document.recipe):
        yield Problem(f"{name}, brief, {problem.where}", problem.what, problem.fix)


def unread_keys(path: Path) -> tuple[Problem, ...]:
    """Return the keys of a recipe file that are not read and look like a misspelt one.

    Unknown keys are kept and are no fault; yet ``moisture_los_percent`` may be meant. Raises
    FileProblem where the file cannot be had.
    """
    path = Path(path)
    return tuple(near_misses(load(path), RecipeRecord, path.name))


def record_from(data: dict[str, Any], kind: type[R], name: str) -> R:
    """Return a file's data as a record; BadInput with every fault of its format and shape."""
    wrong = format_problem(data, name)
    if wrong is not None and wrong.newer:
        raise BadInput(wrong.problem)
    problems = [] if wrong is None else [wrong.problem]
    try:
        record = msgspec.convert(data, kind)
    except msgspec.ValidationError as error:
        problems += shape_problems(data, kind, name, but=("format",))
        if not problems:
            # The walk knows every shape in the schema; should it ever miss one, say so plainly.
            problems.append(Problem(name, f"{error}.", "Put the value right."))
        raise BadInput(problems) from None
    if problems:
        raise BadInput(problems)
    return record


def _recipe(record: RecipeRecord) -> Recipe:
    names = line_ids([(line.id, line.food) for line in record.line])
    return Recipe(
        title=record.title,
        servings=record.servings,
        moisture_loss_percent=record.moisture_loss_percent,
        note=record.note,
        steps=record.steps,
        serve_with=record.serve_with,
        claims=tuple((claim.nutrient, claim.value) for claim in record.claim),
        lines=tuple(
            Line(**{**asdict(line), "id": name})
            for line, name in zip(record.line, names, strict=True)
        ),
    )


def _brief(record: BriefRecord) -> Brief:
    return Brief(
        aim=record.aim,
        shown=record.shown,
        shown_per=record.shown_per,
        manner=record.manner,
        swap_band=record.swap_band,
        max_swaps=record.max_swaps,
        goals=tuple(Goal(**asdict(goal)) for goal in record.goal),
        holds=tuple(_hold(hold) for hold in record.hold),
        swaps=tuple(Swap(**asdict(swap)) for swap in record.swap),
    )


def _hold(record: HoldRecord) -> Hold:
    match record:
        case RatioHoldRecord():
            return RatioHold(**asdict(record))
        case BatchHoldRecord():
            return BatchHold(**asdict(record))
        case LineHoldRecord():
            return LineHold(**asdict(record))
        case CharacterHoldRecord():
            return CharacterHold(**asdict(record))
        case _:
            return RoleHold(**asdict(record))

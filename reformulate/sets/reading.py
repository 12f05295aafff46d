"""Reading recipe files and sets: all faults of a file at once, and none hides another file."""

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
    Goal,
    Hold,
    LineHold,
    RatioHold,
    RoleHold,
    Swap,
    brief_problems,
    starting_brief,
)
from reformulate.errors import BadInput, FileProblem, Problem
from reformulate.measures import system
from reformulate.recipes import Line, Recipe
from reformulate.recipes.batch import recipe_problems
from reformulate.sets.documents import BrokenFile, Document, RecipeSet
from reformulate.sets.faults import format_problem, near_misses, shape_problems
from reformulate.sets.ids import line_ids
from reformulate.sets.loading import load
from reformulate.sets.schema import (
    SET_FILE,
    BatchHoldRecord,
    BriefRecord,
    HoldRecord,
    LineHoldRecord,
    RatioHoldRecord,
    RecipeRecord,
    SetRecord,
)

R = TypeVar("R", bound=Struct)

DEFAULT_MEASURES = "us"


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
    record = _record(data, RecipeRecord, path.name)
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


def read_set(folder: Path) -> RecipeSet:
    """Read a set: its set file, if there is one, and every recipe file beside it.

    Recipes that the set file names come first, in its order; the others follow by name. A file
    that cannot be read is listed in ``broken``.

    Raises
    ------
    FileProblem
        If the folder cannot be listed, or holds neither a set file nor any recipe file.
    """
    folder = Path(folder)
    names = _recipe_names(folder)
    title, note, measures = folder.resolve().name, "", DEFAULT_MEASURES
    order: tuple[str, ...] = ()
    broken: list[BrokenFile] = []
    set_path = folder / SET_FILE
    try:
        found = _set_record(set_path)
    except BadInput as error:
        warning = Problem(
            SET_FILE,
            f"until it is put right, the set is read with the measures '{DEFAULT_MEASURES}'.",
            "Check the amounts in cups and spoons.",
        )
        broken.append(BrokenFile(path=set_path, problems=(*error.problems, warning)))
    else:
        if found is not None:
            title, note, measures = found.title, found.note, found.measures
            order = found.recipes
        elif not names:
            raise FileProblem(
                Problem(
                    str(folder),
                    f"holds no {SET_FILE} and no recipe file.",
                    "Choose the folder of a set.",
                )
            )
    documents: list[Document] = []
    for name in dict.fromkeys((*order, *names)):
        try:
            documents.append(read_document(folder / name))
        except BadInput as error:
            broken.append(BrokenFile(path=folder / name, problems=error.problems))
    return RecipeSet(
        folder=folder,
        title=title,
        note=note,
        measures=measures,
        documents=tuple(documents),
        broken=tuple(broken),
    )


def measures_of(path: Path) -> str:
    """Return the key of the system of measures that holds for a recipe file.

    It is the one of the set file beside it, "us" where there is none. Raises BadInput where that
    file is broken: figures from the wrong cup would be wrong in silence.
    """
    found = _set_record(Path(path).parent / SET_FILE)
    return DEFAULT_MEASURES if found is None else found.measures


def _recipe_names(folder: Path) -> list[str]:
    try:
        names = [
            entry.name
            for entry in folder.iterdir()
            if entry.suffix == ".toml" and entry.name != SET_FILE and entry.name[0] != "."
        ]
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise FileProblem(
            Problem(str(folder), f"cannot be opened: {reason}.", "Choose the folder of a set.")
        ) from None
    return sorted(names, key=lambda name: (name.casefold(), name))


def _set_record(path: Path) -> SetRecord | None:
    """Return what a set file says, None where there is none; BadInput where it is broken."""
    try:
        if not path.exists():
            return None
    except OSError:
        pass  # Loading says what is wrong with the path.
    record = _record(load(path), SetRecord, path.name)
    problems = list(_set_problems(record, path.name))
    if problems:
        raise BadInput(problems)
    return record


def _set_problems(record: SetRecord, name: str) -> Iterator[Problem]:
    try:
        system(record.measures)
    except BadInput as error:
        for problem in error.problems:
            yield Problem(f"{name}, {problem.where}", problem.what, problem.fix)
    seen: set[str] = set()
    for number, recipe in enumerate(record.recipes, start=1):
        where = f"{name}, recipes {number}"
        plain = recipe.endswith(".toml") and not recipe.startswith(".")
        if not plain or recipe == SET_FILE or any(mark in recipe for mark in "/\\\0"):
            yield Problem(
                where,
                f"found '{recipe[:60]}', expected the name of a recipe file in this folder.",
                "Write the bare name, as in 'onion-dip.toml'.",
            )
        if recipe in seen:
            yield Problem(where, f"names '{recipe[:60]}' a second time.", "Name it once.")
        seen.add(recipe)


def _record(data: dict[str, Any], kind: type[R], name: str) -> R:
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
        swap_band=record.swap_band,
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
        case _:
            return RoleHold(**asdict(record))

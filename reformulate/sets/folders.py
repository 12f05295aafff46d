"""Reading a set: its set file and its recipes, none of which hides another."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Final

from msgspec.structs import asdict

from reformulate.brief import Exchange
from reformulate.errors import BadInput, FileProblem, Problem
from reformulate.foods import Price
from reformulate.measures import system
from reformulate.sets.documents import BrokenFile, Document, RecipeSet
from reformulate.sets.loading import load
from reformulate.sets.own_foods import OWN_FOODS_FILE
from reformulate.sets.reading import read_document, record_from
from reformulate.sets.schema import FORMAT, SET_FILE, SetRecord

DEFAULT_MEASURES: Final = "us"
"""The system of measures where no set file names one."""


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
    found: SetRecord | None = None
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
    if found is None:
        found = SetRecord(format=FORMAT, title=folder.resolve().name, measures=DEFAULT_MEASURES)
    return RecipeSet(
        folder=folder,
        title=found.title,
        note=found.note,
        measures=found.measures,
        documents=tuple(documents),
        broken=tuple(broken),
        currency=found.currency,
        prices=tuple(Price(**asdict(price)) for price in found.price),
        exchanges=tuple(Exchange(**asdict(exchange)) for exchange in found.exchange),
        matches=tuple((match.words, match.food) for match in found.match),
    )


def prices_of(path: Path) -> tuple[Price, ...]:
    """Return the prices of the set a recipe file is in; errors as for `measures_of`."""
    found = _set_record(Path(path).parent / SET_FILE)
    return () if found is None else tuple(Price(**asdict(price)) for price in found.price)


def exchanges_of(path: Path) -> tuple[Exchange, ...]:
    """Return the user's exchanges in the set a recipe file is in; errors as for `measures_of`."""
    found = _set_record(Path(path).parent / SET_FILE)
    return () if found is None else tuple(Exchange(**asdict(e)) for e in found.exchange)


def measures_of(path: Path) -> str:
    """Return the key of the system of measures that holds for a recipe file.

    It is the one of the set file beside it, "us" where there is none. Raises BadInput where that
    file is broken: figures from the wrong cup would be wrong in silence.
    """
    found = _set_record(Path(path).parent / SET_FILE)
    return DEFAULT_MEASURES if found is None else found.measures


def taken_names(folder: Path) -> set[str]:
    """Return the names a new recipe's file must not have: those of files and of unsaved work.

    Empty where the folder cannot be listed: writing says what is wrong with it.
    """
    try:
        names = {entry.name for entry in Path(folder).iterdir()}
    except OSError:
        return set()
    drafts = {name[1:] for name in names if name.startswith(".")}
    return names | {name.replace(".draft.toml", ".toml") for name in drafts}


def _recipe_names(folder: Path) -> list[str]:
    try:
        names = [
            entry.name
            for entry in folder.iterdir()
            if entry.suffix == ".toml"
            and entry.name not in (SET_FILE, OWN_FOODS_FILE)
            and entry.name[0] != "."
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
    record = record_from(load(path), SetRecord, path.name)
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
        if (
            not plain
            or recipe in (SET_FILE, OWN_FOODS_FILE)
            or any(mark in recipe for mark in "/\\\0")
        ):
            yield Problem(
                where,
                f"found '{recipe[:60]}', expected the name of a recipe file in this folder.",
                "Write the bare name, as in 'onion-dip.toml'.",
            )
        if recipe in seen:
            yield Problem(where, f"names '{recipe[:60]}' a second time.", "Name it once.")
        seen.add(recipe)

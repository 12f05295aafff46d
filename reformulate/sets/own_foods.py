"""A set's own foods: the file ``foods.toml`` beside its set file, read whole or not at all."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final, TypeVar

import msgspec
from msgspec import Struct
from msgspec.structs import asdict

from reformulate.errors import BadInput, Problem
from reformulate.foods.own import (
    STATABLE,
    Basis,
    OwnFood,
    Rounding,
    Stated,
    own_food_problems,
    read_stated,
)
from reformulate.foods.own.food import GROUP
from reformulate.measures import Measure
from reformulate.sets.faults import format_problem, near_misses, shape_problems
from reformulate.sets.loading import load
from reformulate.sets.values import Values

OWN_FOODS_FILE: Final = "foods.toml"
"""The file of a set that holds its own foods; no recipe file may have that name."""

Data = dict[str, Any]
R = TypeVar("R", bound=Struct)


class MeasureRecord(Struct, kw_only=True, frozen=True):
    """One ``[[food.measure]]``."""

    unit: str
    grams: float
    qualifier: str = ""
    source: str = ""


StatedRecord = msgspec.defstruct(
    "StatedRecord",
    [(key, float | str | None, None) for key in STATABLE],
    kw_only=True,
    frozen=True,
)
"""The ``[food.stated]`` table: a number, or text such as ``"<5"`` or ``"4 %"``, by nutrient."""


class OwnFoodRecord(Struct, kw_only=True, frozen=True):
    """One ``[[food]]``, without its figures and measures."""

    key: str
    name: str
    group: str = GROUP
    words: tuple[str, ...] = ()
    per: Basis = Basis.HUNDRED_GRAMS
    rounding: Rounding = Rounding.NONE
    serving: str = ""
    serving_grams: float | None = None
    recipe: str = ""
    source: str = ""
    note: str = ""


def read_own_foods(folder: Path) -> tuple[OwnFood, ...]:
    """Return the own foods of a set; none where it has no file of them.

    Raises
    ------
    FileProblem
        If the file cannot be had, or is no UTF-8 text, or not TOML.
    BadInput
        If what it says must be put right: every problem, with file, food and key.
    """
    path = Path(folder) / OWN_FOODS_FILE
    try:
        if not path.exists():
            return ()
    except (OSError, ValueError):
        pass  # Loading says what is wrong with the path.
    return own_foods_from(load(path))


def unread_own_food_keys(folder: Path) -> tuple[Problem, ...]:
    """Return the keys of a set's own foods that are not read and look like a misspelt one.

    Unknown keys are kept and are no fault; yet ``sodum_mg`` may be meant. Raises FileProblem where
    the file cannot be had.
    """
    path = Path(folder) / OWN_FOODS_FILE
    tables = load(path).get("food") if path.exists() else None
    return tuple(
        found
        for number, table in enumerate(tables if isinstance(tables, list) else (), start=1)
        if isinstance(table, dict)
        for found in _near_misses(table, _where(table, number))
    )


def own_foods_from(data: Data) -> tuple[OwnFood, ...]:
    """Return the own foods that a file's TOML data gives; BadInput with all that is wrong."""
    wrong = format_problem(data, OWN_FOODS_FILE)
    if wrong is not None and wrong.newer:
        raise BadInput(wrong.problem)
    problems = [] if wrong is None else [wrong.problem]
    tables = data.get("food", [])
    if not isinstance(tables, list):
        where = f"{OWN_FOODS_FILE}, food"
        problems.append(Problem(where, "expected tables.", "Begin each with a row [[food]]."))
        raise BadInput(problems)
    if "food" not in data:
        problems += _misspelt_header(data)
    foods: list[OwnFood] = []
    seen: dict[str, int] = {}
    for number, table in enumerate(tables, start=1):
        where = _where(table, number)
        try:
            food = _food(table, where)
        except BadInput as error:
            problems += error.problems
            continue
        if food.key in seen:
            what = f"has the key of food {seen[food.key]}, “{food.key}”."
            problems.append(Problem(where, what, "Give it another key."))
        seen.setdefault(food.key, number)
        foods.append(food)
    if problems:
        raise BadInput(problems)
    return tuple(foods)


def figures_data(food: OwnFood) -> Values:
    """Return what ``[food.stated]`` says of a food, None for what it leaves out."""
    found: Values = {each.nutrient: each.written for each in food.stated}
    return {key: found.get(key) for key in STATABLE}


def _food(table: object, where: str) -> OwnFood:
    if not isinstance(table, dict):
        raise BadInput(Problem(where, "expected a table.", "Begin it with a row [[food]]."))
    problems: list[Problem] = []
    record = _record(_plain(table), OwnFoodRecord, where, problems)
    measures = list(_measures(table.get("measure", []), where, problems))
    stated: list[Stated] = []
    if "stated" in table:
        stated = list(_stated(table["stated"], where, problems))
    else:
        fix = "Write its figures below a row [food.stated]."
        problems.append(Problem(f"{where}, stated", "is missing.", fix))
    if record is None:
        raise BadInput(problems)
    food = OwnFood(**asdict(record), measures=tuple(measures), stated=tuple(stated))
    problems += [
        Problem(f"{where}, {_key_of(each.where)}", each.what, each.fix)
        for each in own_food_problems(food)
    ]
    if problems:
        told = {str(problem) for problem in problems}
        near = [each for each in _near_misses(table, where) if str(each) not in told]
        raise BadInput([*problems, *near])
    return food


def _record(data: Data, kind: type[R], where: str, problems: list[Problem]) -> R | None:
    try:
        return msgspec.convert(data, kind)
    except msgspec.ValidationError as error:
        # The walk knows the shapes of all our fields; should it ever miss one, say so plainly.
        told = list(shape_problems(data, kind, where))
        problems += told or [Problem(where, f"{error}.", "Put the value right.")]
        return None


def _plain(table: Data) -> Data:
    return {key: value for key, value in table.items() if key not in ("measure", "stated")}


def _near_misses(table: Data, where: str) -> Iterator[Problem]:
    yield from near_misses(_plain(table), OwnFoodRecord, where)
    if isinstance(table.get("stated"), dict):
        yield from near_misses(table["stated"], StatedRecord, f"{where}, stated")


def _measures(found: object, where: str, problems: list[Problem]) -> Iterator[Measure]:
    if not isinstance(found, list):
        fix = "Begin each with a row [[food.measure]]."
        problems.append(Problem(f"{where}, measure", "expected tables.", fix))
        return
    for number, table in enumerate(found, start=1):
        place = f"{where}, measure {number}"
        if not isinstance(table, dict):
            problems.append(
                Problem(place, "expected a table.", "Begin it with a row [[food.measure]].")
            )
            continue
        record = _record(table, MeasureRecord, place, problems)
        if record is not None:
            yield Measure(**asdict(record))


def _stated(found: object, where: str, problems: list[Problem]) -> Iterator[Stated]:
    if not isinstance(found, dict):
        fix = "Begin it with a row [food.stated]."
        problems.append(Problem(f"{where}, stated", "expected a table.", fix))
        return
    _record(found, StatedRecord, f"{where}, stated", problems)
    # Figure by figure, so that one that cannot be read hides no other.
    for key, value in found.items():
        readable = isinstance(value, int | float | str) and not isinstance(value, bool)
        if key not in STATABLE or not readable:
            continue
        try:
            yield read_stated(key, value)
        except BadInput as error:
            problems += [Problem(f"{where}, stated, {key}", p.what, p.fix) for p in error.problems]
        except OverflowError:
            what = "found a number that is far too large."
            problems.append(Problem(f"{where}, stated, {key}", what, "Write it as printed."))


def _misspelt_header(data: Data) -> Iterator[Problem]:
    """Yield a header that looks like a misspelt [[food]]: else the foods would be lost in silence."""
    for key in data:
        if key.lower().rstrip("s") == "food":
            where = f"{OWN_FOODS_FILE}, {key}"
            yield Problem(where, "is not read.", "Did you mean [[food]]?")


def _where(table: object, number: int) -> str:
    key = table.get("key") if isinstance(table, dict) else None
    named = f" ({key[:40]})" if isinstance(key, str) and key else ""
    return f"{OWN_FOODS_FILE}, food {number}{named}"


def _key_of(spoken: str) -> str:
    """Return the key of a figure that a problem calls by its name; else what it says itself."""
    keys = [key for key, kind in STATABLE.items() if kind.spoken == spoken]
    return f"stated, {keys[0]}" if len(keys) == 1 else spoken

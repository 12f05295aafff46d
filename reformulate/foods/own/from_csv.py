"""Own foods from a user's own table: every fault at once, nothing half taken."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from reformulate.errors import BadInput, Problem, shortened
from reformulate.foods.own.csv_columns import TEXT_COLUMNS, Column, Header, read_header
from reformulate.foods.own.csv_numbers import decimal_marks, may_be_two, read_cell
from reformulate.foods.own.csv_text import (
    Row,
    TableText,
    first_rows,
    rows_of,
    table_bytes,
    table_text,
)
from reformulate.foods.own.faults import own_food_problems
from reformulate.foods.own.findings import own_food_findings
from reformulate.foods.own.food import GROUP, OwnFood
from reformulate.foods.own.keys import own_key
from reformulate.foods.own.stated import STATABLE, Stated, scaled_exactly
from reformulate.foods.plain_text import clean

MOST_FOODS: Final = 1000
"""Most foods of one table [count]: they are kept in one file that people read."""

MOST_SHOWN: Final = 200
"""Problems that are listed before "and more" [count]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TableRead:
    """The foods of a table, and what is worth knowing about how it was read."""

    foods: tuple[OwnFood, ...]
    notes: tuple[Problem, ...] = ()
    """Columns that were not read, an encoding that was assumed, foods that do not agree with
    themselves."""


def foods_from_csv(path: Path | str, taken: Collection[str] = ()) -> TableRead:
    """Take the foods of a table file; see `foods_from_csv_bytes`.

    Raises
    ------
    FileProblem
        The file cannot be had, or is no text.
    BadInput
        With every fault of the table.
    """
    path = Path(path)
    return foods_from_csv_bytes(table_bytes(path), path.name, taken)


def foods_from_csv_bytes(data: bytes, name: str, taken: Collection[str] = ()) -> TableRead:
    """Take the foods of a table: one a row, figures per 100 g.

    The header names columns by our keys (``fat_g``) or plainly (``Fat``, ``Sodium (g)``); a name
    without a unit means the unit of our key. Commas, semicolons or tabs part the cells; decimals
    have a point or a comma, one in all the table. A blank cell is unknown, "trace" is 0.

    Parameters
    ----------
    data
        The file's bytes: UTF-8, UTF-16 or UTF-32 with a mark, or Windows-1252.
    name
        What messages call the file.
    taken
        Keys that foods without a key of their own do not get.

    Raises
    ------
    FileProblem
        The bytes are no text, or too many.
    BadInput
        With every fault, its row and column; no food is taken then.
    """
    table = table_text(data, name)
    delimiter, top = _header_row(table, name)
    header = read_header(top.cells)
    problems = [_at(name, top, problem) for problem in header.problems]
    rows, broken = _body(table, delimiter, top, name)
    problems += broken
    if len(rows) > MOST_FOODS:
        what = f"has more than {MOST_FOODS} foods."
        raise BadInput(Problem(name, what, "Take a part of it."))
    wide = [row for row in rows if len(row.cells) == header.width]
    problems += [_ragged(row, header, name) for row in rows if len(row.cells) != header.width]
    mark, mixed = _decimal_mark(wide, header, name)
    problems += mixed
    foods, faults = _foods(wide, header, mark, name, taken)
    problems += faults
    if not rows and not problems:
        problems.append(Problem(name, "There are no foods below the header.", "Add a row each."))
    if problems:
        raise BadInput(shortened(problems, name, MOST_SHOWN))
    return TableRead(foods=foods, notes=tuple(_notes(table, header, foods, name)))


def _header_row(table: TableText, name: str) -> tuple[str, Row]:
    """Return the delimiter by which most heads are ours, and the header row."""
    found = first_rows(table, name)
    best = max(found, key=lambda each: len(read_header(found[each].cells).columns))
    return best, found[best]


def _body(
    table: TableText, delimiter: str, top: Row, name: str
) -> tuple[list[Row], tuple[Problem, ...]]:
    rows: list[Row] = []
    try:
        for row in rows_of(table, delimiter, name):
            if row.number > top.number:
                rows.append(row)
            if len(rows) > MOST_FOODS:
                break
    except BadInput as error:
        return rows, error.problems
    return rows, ()


def _ragged(row: Row, header: Header, name: str) -> Problem:
    return Problem(
        f"{name}, row {row.number}",
        f"Found {len(row.cells)} cells, expected {header.width} as in the header.",
        "Put cells with a comma in quotation marks, or part cells by semicolons.",
    )


def _decimal_mark(rows: list[Row], header: Header, name: str) -> tuple[str, list[Problem]]:
    columns = [column for column in header.columns if column.fills in STATABLE]
    places = [(row, column) for row in rows for column in columns]
    marks = decimal_marks(row.cells[column.place] for row, column in places)
    if len(marks) < 2:
        return next(iter(marks), ""), []
    (row, column), (other_row, other) = (places[at] for at in sorted(marks.values()))
    problem = Problem(
        f"{name}, row {other_row.number}, {other.where}",
        f"found “{_short(other_row.cells[other.place])}”, while row {row.number}, {column.where} "
        f"has “{_short(row.cells[column.place])}”.",
        "Write all decimals with a point, or all with a comma.",
    )
    return "", [problem]


def _foods(
    rows: list[Row], header: Header, mark: str, name: str, taken: Collection[str]
) -> tuple[tuple[OwnFood, ...], list[Problem]]:
    problems: list[Problem] = []
    foods: list[OwnFood] = []
    keys: dict[str, int] = {}
    by_name: dict[str, int] = {}
    key_columns = [column.place for column in header.columns if column.fills == "key"]
    used = {*taken, *(clean(row.cells[place]) for row in rows for place in key_columns)}
    for row in rows:
        food, faults = _food(row, header, mark, name, used)
        used.add(food.key)
        problems += faults
        for what, value, seen in (("key", food.key, keys), ("name", food.name, by_name)):
            if value and value in seen:
                problems.append(
                    Problem(
                        f"{name}, row {row.number}",
                        f"found the {what} “{_short(value)}” again, first in row {seen[value]}.",
                        "Keep one of them, or tell them apart.",
                    )
                )
            seen.setdefault(value, row.number)
        foods.append(food)
    return tuple(foods), problems


def _food(
    row: Row, header: Header, mark: str, name: str, taken: Collection[str]
) -> tuple[OwnFood, list[Problem]]:
    texts = dict.fromkeys(TEXT_COLUMNS, "")
    stated: list[Stated] = []
    where_of: dict[str, str] = {}
    problems: list[Problem] = []
    for column in header.columns:
        text, where = row.cells[column.place], f"{name}, row {row.number}, {column.where}"
        where_of[_blamed(column)] = where
        if column.fills in TEXT_COLUMNS:
            texts[column.fills] = clean(text)
            continue
        cell = read_cell(text, mark)
        if cell is None:
            problems.append(_no_number(text, mark, where))
        elif cell.amount is not None:
            stated.append(
                Stated(
                    nutrient=column.fills,
                    amount=scaled_exactly(cell.amount, column.factor),
                    below=cell.below,
                )
            )
    food = OwnFood(
        key=texts["key"] or own_key(texts["name"], taken),
        name=texts["name"],
        group=texts["group"] or GROUP,
        words=tuple(word.strip() for word in texts["words"].split(";") if word.strip()),
        stated=tuple(stated),
        source=texts["source"] or name,
        note=texts["note"],
    )
    problems += [
        Problem(where_of.get(fault.where, f"{name}, row {row.number}"), fault.what, fault.fix)
        for fault in own_food_problems(food)
        if fault.where != "name" or "name" in where_of  # else the header is blamed already
    ]
    return food, problems


def _blamed(column: Column) -> str:
    """Return what a problem of the food calls a column."""
    return STATABLE[column.fills].spoken if column.fills in STATABLE else column.fills


def _no_number(text: str, mark: str, where: str) -> Problem:
    shown = _short(text)
    if may_be_two(text.strip(), mark):
        what = f"found “{shown}”, whose comma may part thousands or decimals."
        return Problem(where, what, "Write 1234 or 1.234, for example.")
    return Problem(where, f"found “{shown}”, expected a number.", "Leave it blank where unknown.")


def _notes(
    table: TableText, header: Header, foods: tuple[OwnFood, ...], name: str
) -> Iterator[Problem]:
    if table.encoding == "windows-1252":
        what = "is no UTF-8 text and was read as Windows-1252."
        yield Problem(name, what, "Check the letters with accents.")
    if header.ignored:
        what = f"These columns were not read: {', '.join(header.ignored)}."
        yield Problem(name, what, "Head them by a nutrient where they hold one.")
    for food in foods:
        for found in own_food_findings(food):
            yield Problem(f"{name}, {found.where}", found.what, found.fix)


def _at(name: str, row: Row, problem: Problem) -> Problem:
    return Problem(f"{name}, row {row.number}, {problem.where}", problem.what, problem.fix)


def _short(text: str) -> str:
    return clean(text, 40)

"""From a table file's bytes to its rows, whatever program wrote it."""

from __future__ import annotations

import csv
import io
import re
import stat
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from reformulate.errors import BadInput, FileProblem, Problem

LARGEST_TABLE: Final = 5_000_000
"""Most bytes of a table file [byte]; a thousand foods have some 200 000."""

MOST_CELLS: Final = 300
"""Most cells of one row [count]."""

_DELIMITERS: Final = (",", ";", "\t")
_SEPARATOR_ROW = re.compile(r"sep=(.)\r?\n")
_MARKS: Final = (
    (b"\xef\xbb\xbf", "utf-8-sig"),
    (b"\xff\xfe\x00\x00", "utf-32"),
    (b"\x00\x00\xfe\xff", "utf-32"),
    (b"\xff\xfe", "utf-16"),
    (b"\xfe\xff", "utf-16"),
)
_AS_TEXT: Final = "Save it as CSV text in UTF-8; a spreadsheet file itself is no text."


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of a table."""

    number: int
    """Its number, counted as a spreadsheet does, from 1."""
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TableText:
    """A table file as text, and what had to be assumed."""

    text: str
    first_row: int = 1
    """Number of the first row of the text: 2 where a row names the delimiter before it."""
    delimiter: str = ""
    """The one the file names itself; "" where it names none."""
    encoding: str = "utf-8"


def table_bytes(path: Path) -> bytes:
    """Return what a table file holds; FileProblem where it cannot be had or is too large."""
    where = str(path)
    try:
        # A pipe or a device would keep the reader waiting for ever.
        if not stat.S_ISREG(path.stat().st_mode):
            raise FileProblem(Problem(where, "is not a file.", "Choose a table saved as CSV."))
        with path.open("rb") as file:
            return file.read(LARGEST_TABLE + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        fix = "Check that it exists and that you may open it."
        raise FileProblem(Problem(where, f"The file cannot be read ({reason}).", fix)) from None


def table_text(data: bytes, name: str) -> TableText:
    """Return the text of a table file: UTF-8, UTF-16 or UTF-32 with their marks, Windows-1252.

    Raises
    ------
    FileProblem
        It is too large, empty, or no text.
    """
    if len(data) > LARGEST_TABLE:
        what = f"is larger than {LARGEST_TABLE // 1_000_000} MB."
        raise FileProblem(Problem(name, what, "Is it a table of own foods? Take a part of it."))
    encoding = next((found for mark, found in _MARKS if data.startswith(mark)), "utf-8")
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError as error:
        if encoding != "utf-8" or b"\0" in data:
            what = f"Found bytes that are no text in {encoding.upper()}, at byte {error.start}."
            raise FileProblem(Problem(name, what, _AS_TEXT)) from None
        encoding = "windows-1252"
        text = data.decode("cp1252", errors="replace")
    if "\0" in text:
        raise FileProblem(Problem(name, "Found NUL characters, as in no text.", _AS_TEXT))
    if not text.strip():
        raise FileProblem(Problem(name, "The file is empty.", "Choose a table with a header row."))
    named = _SEPARATOR_ROW.match(text)
    if named:
        text = text[named.end() :]
        return TableText(text=text, first_row=2, delimiter=named[1], encoding=encoding)
    return TableText(text=text, encoding=encoding)


def rows_of(table: TableText, delimiter: str, name: str) -> Iterator[Row]:
    """Yield the rows of a table that have anything in them.

    Raises
    ------
    BadInput
        A row cannot be split in cells: quotation marks that do not close, a cell or a row far too
        long. What went before has been given.
    """
    number = table.first_row - 1
    reader = csv.reader(io.StringIO(table.text, newline=""), delimiter=delimiter, strict=True)
    while True:
        number += 1
        try:
            cells = next(reader, None)
        except csv.Error as error:
            raise BadInput(
                Problem(
                    f"{name}, row {number}",
                    f"The row cannot be split in cells ({error}).",
                    "Look for a quotation mark that does not close.",
                )
            ) from None
        if cells is None:
            return
        if len(cells) > MOST_CELLS:
            what = f"Found {len(cells)} cells, expected at most {MOST_CELLS}."
            raise BadInput(Problem(f"{name}, row {number}", what, "Is this the right file?"))
        if any(cell.strip() for cell in cells):
            yield Row(number=number, cells=tuple(cells))


def first_rows(table: TableText, name: str) -> dict[str, Row]:
    """Return the first row as each delimiter splits it; BadInput where none can."""
    found: dict[str, Row] = {}
    refused: list[BadInput] = []
    for delimiter in (table.delimiter,) if table.delimiter else _DELIMITERS:
        try:
            found[delimiter] = next(rows_of(table, delimiter, name))
        except BadInput as error:
            refused.append(error)
        except (TypeError, ValueError):
            what = f"Found “{delimiter}” named as what parts the cells."
            fix = "Use a comma, a semicolon or a tab."
            raise BadInput(Problem(f"{name}, row 1", what, fix)) from None
        except StopIteration:
            break
    if refused and all(len(row.cells) == 1 for row in found.values()):
        raise refused[0]
    if not found:
        what = "There is no header row."
        raise BadInput(Problem(name, what, "Name the columns in the first row."))
    return found


def column_letter(number: int) -> str:
    """Return what a spreadsheet calls column ``number``, counted from 0.

    >>> column_letter(0), column_letter(25), column_letter(26)
    ('A', 'Z', 'AA')
    """
    letters = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters

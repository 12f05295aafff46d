"""Rows of a part: the named columns of each, with the line it stands on."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from operator import itemgetter

from reformulate.errors import BadInput, Problem
from reformulate.foods.store.download import Part
from reformulate.foods.store.tally import AGAIN, Faults, Tally
from reformulate.foods.store.text import Reading, lines_of
from reformulate.foods.store.watch import Watch

Row = tuple[str, ...]
"""The texts of the columns asked for, in the order asked."""
Spelling = Callable[[str], str]
_SHOWN = 60  # characters of what was found


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """What a file must hold to be read."""

    columns: tuple[str, ...]
    """Names asked for; a column that may be missing reads as blank."""
    optional: frozenset[str] = frozenset()
    unnamed: tuple[int, tuple[str, ...]] | None = None
    """In the ASCII form, where no line names the columns: how many there are, and their names."""
    spelling: Spelling = str.casefold
    """What two spellings of a column name have in common."""


class RowReader:
    """Reads one part once; `reading` and `faults` tell afterwards how that went."""

    def __init__(self, part: Part, layout: Layout, watch: Watch, tally: Tally) -> None:
        self.part = part
        self.reading = Reading(part, watch)
        self.faults = Faults(tally, part.where, lambda: self.reading.rows)
        self._layout = layout

    def rows(self) -> Iterator[tuple[int, Row]]:
        """Give the line number and the columns of every sound row.

        Raises
        ------
        BadInput
            Columns are missing, the file ends within a row, or too many rows are broken.
        FileProblem
            The file cannot be read.
        """
        tail = _Tail(lines_of(self.reading))
        numbered = _caret_rows(tail) if self._layout.unnamed else _comma_rows(tail, self.part)
        names = self._layout.unnamed[1] if self._layout.unnamed else next(numbered, (1, []))[1]
        width = self._layout.unnamed[0] if self._layout.unnamed else len(names)
        picked = _picker(names, self._layout, self.part)
        for line, row in numbered:
            if not row:
                continue
            self.reading.rows += 1
            if len(row) != width:
                if tail.ended:
                    raise BadInput(self._broken_off(line, len(row), width))
                self.faults.add(f"The row has not the {width} fields of its file.", line)
                continue
            row.append("")
            yield line, picked(row)
        if tail.within_quotes:
            raise BadInput(self._broken_off(tail.count, width, width))
        self.faults.judge()

    def _broken_off(self, line: int, found: int, expected: int) -> Problem:
        where = f"{self.part.where}, line {line}"
        fields = f": {found} fields of {expected}" if found != expected else ""
        return Problem(
            where=where, what=f"The file ends in the middle of a row{fields}.", fix=AGAIN
        )


def missing_columns(part: Part, layout: Layout) -> list[Problem]:
    """Return what is wrong with the line of column names of a part; nothing for the ASCII form."""
    if layout.unnamed:
        return []
    reading = Reading(part, Watch())
    try:
        names = next(_comma_rows(_Tail(lines_of(reading)), part), (1, []))[1]
        _picker(names, layout, part)
    except BadInput as error:
        return list(error.problems)
    return []


class _Tail:
    """Lines, one ahead: says whether the one handed out last is the last one."""

    def __init__(self, lines: Iterable[str]) -> None:
        self._lines = iter(lines)
        self._next = next(self._lines, None)
        self._last = ""
        self.count = 0

    def __iter__(self) -> _Tail:
        return self

    def __next__(self) -> str:
        line = self._next
        if line is None:
            raise StopIteration
        self._last, self._next = line, next(self._lines, None)
        self.count += 1
        return line

    @property
    def ended(self) -> bool:
        return self._next is None

    @property
    def within_quotes(self) -> bool:
        """Whether the file stops inside a quoted text."""
        return not self._last.endswith("\n") and self._last.count('"') % 2 == 1


def _comma_rows(lines: _Tail, part: Part) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(lines)
    while True:
        try:
            row = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            what = f"The row cannot be read ({error})."
            where = f"{part.where}, line {reader.line_num}"
            raise BadInput(Problem(where=where, what=what, fix=AGAIN)) from error
        yield reader.line_num, row


def _caret_rows(lines: _Tail) -> Iterator[tuple[int, list[str]]]:
    for line in lines:
        bare = line.rstrip("\r\n")
        row = [text.strip("~") for text in bare.split("^")] if bare.strip() else []
        yield lines.count, row


def _picker(names: Sequence[str], layout: Layout, part: Part) -> Callable[[list[str]], Row]:
    found: dict[str, int] = {}
    for at, name in enumerate(names):
        found.setdefault(layout.spelling(name.strip()), at)
    places = [found.get(layout.spelling(name)) for name in layout.columns]
    missing = [
        name
        for name, at in zip(layout.columns, places, strict=True)
        if at is None and name not in layout.optional
    ]
    if missing:
        shown = ",".join(names)[:_SHOWN]
        what = f"Columns are missing: {', '.join(missing)}; found “{shown}”."
        fix = "Choose the files as downloaded: commas between fields, names on the first line."
        raise BadInput(Problem(where=f"{part.where}, line 1", what=what, fix=fix))
    # The reader appends one blank to each row: what a missing column reads as.
    at_end = [-1 if at is None else at for at in places]
    if len(at_end) == 1:
        (only,) = at_end
        return lambda row: (row[only],)
    pick: Callable[[list[str]], Row] = itemgetter(*at_end)
    return pick

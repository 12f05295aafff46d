"""A heap of rows on disk that comes back by food.

The files of a release tell of one food in many places, in any order. Rows are put on a heap in a
private temporary database and read back sorted, so that memory stays small however many there are.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from itertools import groupby
from operator import itemgetter
from typing import Any, Final

from reformulate.errors import FileProblem, Problem
from reformulate.foods.store.watch import READ_UP_TO, WRITTEN_UP_TO, Cancelled, Watch

Staged = tuple[int, int, Any, Any, Any]
"""Food, part of it, and three texts, numbers or bytes whose meaning the part defines."""
_STEPS = 50_000  # of SQLite's machine between two looks at whether to stop
_CACHE_KB: Final = 16_000


class Stage:
    """Rows of (food, part, three values), given back food by food."""

    def __init__(self, watch: Watch) -> None:
        self._watch = watch
        # An empty name: SQLite keeps the file in the temporary folder and deletes it by itself.
        self._db = sqlite3.connect("", isolation_level=None)
        self._db.executescript(
            f"PRAGMA journal_mode=OFF; PRAGMA synchronous=OFF; PRAGMA cache_size=-{_CACHE_KB};"
            "CREATE TABLE heap(food INTEGER, part INTEGER, a, b, c); BEGIN;"
        )
        self._db.set_progress_handler(watch.asked_to_stop, _STEPS)

    def close(self) -> None:
        """Throw the heap away."""
        self._db.close()

    def add(self, rows: Iterable[Staged]) -> None:
        """Put rows on the heap as they come."""
        with _reported():
            self._db.executemany("INSERT INTO heap VALUES(?,?,?,?,?)", rows)

    def foods(self) -> Iterator[tuple[int, Iterator[Staged]]]:
        """Give each food with its rows, by part and then as they came."""
        rows = self._sorted()
        yield from groupby(rows, key=itemgetter(0))

    def _sorted(self) -> Iterator[Staged]:
        with _reported():
            (total,) = self._db.execute("SELECT coalesce(max(rowid), 1) FROM heap").fetchone()
            rows = self._db.execute(
                "SELECT food, part, a, b, c FROM heap ORDER BY food, part, rowid"
            )
        done = 0
        while True:
            with _reported():
                some = rows.fetchmany(1000)
            if not some:
                return
            done += len(some)
            self._watch.tell(
                READ_UP_TO + (WRITTEN_UP_TO - READ_UP_TO) * done / total, "Writing the foods"
            )
            yield from some


@contextmanager
def _reported() -> Iterator[None]:
    try:
        yield
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode == sqlite3.SQLITE_INTERRUPT:
            raise Cancelled from error
        what = f"The import needs room there and did not get it ({error})."
        fix = "Make room on the disk that holds temporary files, then import again."
        raise FileProblem(Problem(where="temporary folder", what=what, fix=fix)) from error

"""The store's file: an SQLite database, written in one transaction and read beside it.

The file keeps a write-ahead log: whoever searches sees the foods of before until an import is
complete, and a program that dies half-way leaves nothing behind.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from reformulate.errors import FileProblem, Problem
from reformulate.foods.store.watch import Cancelled

APPLICATION: Final = int.from_bytes(b"Rfds")
"""Marks the file as ours."""
VERSION: Final = 1
"""Of the tables below."""

_TABLES = """
CREATE TABLE sources(
    id INTEGER PRIMARY KEY,
    kind TEXT NOT NULL,
    release TEXT NOT NULL,
    picked INTEGER NOT NULL,
    imported_at TEXT NOT NULL,
    files TEXT NOT NULL,
    skipped TEXT NOT NULL
);
CREATE TABLE foods(
    id INTEGER PRIMARY KEY,
    key TEXT NOT NULL UNIQUE,
    source INTEGER NOT NULL REFERENCES sources(id),
    name TEXT NOT NULL,
    grp TEXT NOT NULL,
    words TEXT NOT NULL,
    origin TEXT NOT NULL,
    ndb TEXT,
    edible REAL NOT NULL,
    note TEXT NOT NULL,
    figures BLOB NOT NULL,
    measures TEXT NOT NULL
);
CREATE INDEX foods_by_ndb ON foods(ndb) WHERE ndb IS NOT NULL;
CREATE INDEX foods_by_source ON foods(source);
CREATE VIRTUAL TABLE names USING fts5(
    terms, content='', detail=none, columnsize=0, prefix='1 2 3 4'
);
CREATE TABLE spellings(word TEXT PRIMARY KEY, foods INTEGER NOT NULL) WITHOUT ROWID;
"""
# The id of a food is its place among all foods, plain and short names first (see `place_of`), so
# that the index gives matches best first and a search can stop after a few hundred of them.

INDEXED_PREFIX: Final = 4
"""Letters up to which the index knows every beginning of a word."""
_CACHE_KB = 16_000
_BUSY_SECONDS = 2.0


def place_of(name: str, *, branded: bool, serial: int) -> int:
    """Return the id of a food: others before branded ones, short names before long ones.

    Parameters
    ----------
    name
        Its name.
    branded
        Whether a package gave the figures.
    serial
        What no other food of the store has, below 2**32.
    """
    return (branded << 10 | min(len(name), 1023)) << 32 | serial


FIRST_BRANDED: Final = place_of("", branded=True, serial=0)
"""Places below this are those of foods that no package gave the figures of."""


def serial_of(place: int) -> int:
    """Return the serial within a place."""
    return place & 0xFFFFFFFF


def reader(path: Path) -> sqlite3.Connection:
    """Open the store for reading; any thread may use or close the connection.

    Raises
    ------
    FileProblem
        It is damaged, is no store, or is that of a newer program.
    """
    with reported(path):
        connection = sqlite3.connect(
            f"{path.absolute().as_uri()}?mode=ro",
            uri=True,
            check_same_thread=False,
            isolation_level=None,
            timeout=_BUSY_SECONDS,
        )
        try:
            connection.execute(f"PRAGMA cache_size=-{_CACHE_KB}")
            _check(connection, path)
        except BaseException:
            connection.close()
            raise
        return connection


@contextmanager
def writing(path: Path) -> Iterator[sqlite3.Connection]:
    """Open or make the store and give a transaction: all of it is kept, or nothing.

    Raises
    ------
    FileProblem
        It cannot be written, is damaged, is no store, or another import is writing.
    """
    new = not path.exists()
    try:
        with reported(path):
            path.parent.mkdir(parents=True, exist_ok=True)
            with _transaction(path) as connection:
                yield connection
    except BaseException:
        if new:
            _remove_empty(path)
        raise


@contextmanager
def _transaction(path: Path) -> Iterator[sqlite3.Connection]:
    connection = sqlite3.connect(path, isolation_level=None, timeout=_BUSY_SECONDS)
    try:
        connection.execute(f"PRAGMA cache_size=-{_CACHE_KB}")
        _check(connection, path)
        connection.execute("PRAGMA journal_mode=WAL")
        connection.execute("PRAGMA synchronous=FULL")
        connection.execute("BEGIN IMMEDIATE")
        if is_empty(connection):
            for statement in _TABLES.split(";\n"):
                connection.execute(statement)
            connection.execute(f"PRAGMA application_id={APPLICATION}")
            connection.execute(f"PRAGMA user_version={VERSION}")
        yield connection
        connection.set_progress_handler(None, 0)
        connection.execute("COMMIT")
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    finally:
        connection.set_progress_handler(None, 0)
        # What was not committed is rolled back by closing.
        connection.close()


@contextmanager
def reported(path: Path) -> Iterator[None]:
    """Turn what SQLite and the system say into problems with a way out."""
    try:
        yield
    except sqlite3.Error as error:
        raise _reported(error, path) from error
    except OSError as error:
        what = f"The store of imported foods cannot be written ({error.strerror or error})."
        fix = "Check the folder, or choose another place."
        raise FileProblem(Problem(where=str(path), what=what, fix=fix)) from error


def _reported(error: sqlite3.Error, path: Path) -> Exception:
    code = getattr(error, "sqlite_errorcode", -1) & 0xFF
    if code == sqlite3.SQLITE_INTERRUPT:
        return Cancelled()
    if isinstance(error, sqlite3.ProgrammingError | sqlite3.InterfaceError):
        return error
    what, fix = {
        sqlite3.SQLITE_BUSY: (
            "Another import is writing to the store.",
            "Wait until it is done, then try again.",
        ),
        sqlite3.SQLITE_FULL: (
            "The disk is full; the store is as it was.",
            "Make room, then import again.",
        ),
        sqlite3.SQLITE_READONLY: (
            "The store of imported foods may not be written.",
            "Allow it, or choose another place.",
        ),
        sqlite3.SQLITE_CANTOPEN: (
            "The store of imported foods cannot be opened.",
            "Check that the folder exists and that you may write there.",
        ),
        sqlite3.SQLITE_IOERR: (
            f"The disk did not do as asked ({error}); the store is as it was.",
            "Check the disk, then try again.",
        ),
    }.get(
        code,
        (
            f"This is no store of imported foods, or it is damaged ({error}).",
            "Move the file away and import your downloads again.",
        ),
    )
    return FileProblem(Problem(where=str(path), what=what, fix=fix))


def _check(connection: sqlite3.Connection, path: Path) -> None:
    (application,) = connection.execute("PRAGMA application_id").fetchone()
    (version,) = connection.execute("PRAGMA user_version").fetchone()
    if application == 0 and is_empty(connection):
        return
    if application != APPLICATION:
        what = "This is a database of another program."
        fix = "Choose another place for imported foods."
    elif version > VERSION:
        what = f"This store was written by a newer version (format {version}, known: {VERSION})."
        fix = "Use the newer version, or choose another place."
    else:
        return
    raise FileProblem(Problem(where=str(path), what=what, fix=fix))


def is_empty(connection: sqlite3.Connection) -> bool:
    """Return whether nothing was ever written there."""
    return not connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]


def _remove_empty(path: Path) -> None:
    """Take a file away that the failed import made; never one that holds anything."""
    try:
        connection = sqlite3.connect(path, isolation_level=None)
        try:
            empty = is_empty(connection)
        finally:
            connection.close()
        if empty:
            for end in ("", "-wal", "-shm"):
                path.with_name(path.name + end).unlink(missing_ok=True)
    except (sqlite3.Error, OSError):
        return  # what is left is an empty store

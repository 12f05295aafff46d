"""The foods that a user imported: searched as a name is typed, read back with their figures."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from pathlib import Path
from threading import Lock, get_ident
from types import TracebackType
from typing import Self

from reformulate.foods.store.place import default_store_path
from reformulate.foods.store.provenance import Source
from reformulate.foods.store.reading import plain_of, sources_of, table_of
from reformulate.foods.store.schema import is_empty, reader, reported
from reformulate.foods.store.search import Hit, hits_of
from reformulate.foods.table import FoodTable


class FoodStore:
    """A store of imported foods, open for reading.

    Any thread may ask; each gets a connection of its own. A store that has not been made yet is
    empty until an import makes it. What an import brings is found as soon as that is complete.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        self._lock = Lock()
        self._closed = False
        # By thread: an identity is taken again only after its thread has ended, so that the
        # connection it left is then nobody's.
        self._connections: dict[int, sqlite3.Connection] = {}

    @classmethod
    def open(cls, path: Path | str | None = None) -> Self:
        """Open the store at ``path``, the user's own by default.

        Raises
        ------
        FileProblem
            The file is damaged, is no store, or is that of a newer program.
        """
        store = cls(default_store_path() if path is None else Path(path))
        store._connection()
        return store

    @property
    def path(self) -> Path:
        """Where the store's file is or will be."""
        return self._path

    def search(self, text: str, limit: int = 20, *, guess: bool = True) -> tuple[Hit, ...]:
        """Return the foods that ``text`` may mean, best first.

        Every typed word must begin a word of the food's name, further words or number. A name that
        starts with the text comes first, then whole words, then short main nouns; foods before
        branded foods, plain short names before long ones. Nothing typed gives the plainest names.

        Parameters
        ----------
        text
            What has been typed so far; upper case and accents do not matter.
        limit
            Most foods to return [count].
        guess
            Let a word that begins none of the index's words stand for those spelt like it.
        """
        connection = self._connection()
        if connection is None or limit <= 0:
            return ()
        with reported(self._path):
            return hits_of(connection, text, limit, guess=guess)

    def table(self, keys: Iterable[str]) -> FoodTable:
        """Return the foods with these keys, ``ndb:01009`` or ``fdc:173410``, in that order.

        Raises
        ------
        BadInput
            No food has a key: every such key.
        """
        with reported(self._path):
            return table_of(self._connection(), list(keys))

    def plain(self, most: int = 50_000) -> FoodTable:
        """Return the foods whose figures no package gave: what a search of all foods is to look through.

        Parameters
        ----------
        most
            Most foods to return [count]; those with short names come first.
        """
        with reported(self._path):
            return plain_of(self._connection(), most)

    def sources(self) -> tuple[Source, ...]:
        """Return where the foods come from, oldest import first; nothing where none are."""
        connection = self._connection()
        if connection is None:
            return ()
        with reported(self._path):
            return sources_of(connection)

    def __contains__(self, key: object) -> bool:
        connection = self._connection()
        if connection is None or not isinstance(key, str):
            return False
        with reported(self._path):
            query = "SELECT count(*) FROM foods WHERE key = ?"
            return bool(connection.execute(query, (key,)).fetchone()[0])

    def count(self) -> int:
        """Return how many foods there are [count]."""
        return sum(source.foods for source in self.sources())

    def close(self) -> None:
        """Let go of the file; the store is of no more use."""
        with self._lock:
            self._closed = True
            while self._connections:
                self._connections.popitem()[1].close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def _connection(self) -> sqlite3.Connection | None:
        """Return this thread's own connection; None while there is no store."""
        thread = get_ident()
        with self._lock:
            self._check_open()
            found = self._connections.get(thread)
        if found is not None or not self._path.exists():
            return found
        with reported(self._path):
            made = reader(self._path)
            if is_empty(made):  # the first import is still at work
                made.close()
                return None
        with self._lock:
            self._connections[thread] = made
            return made

    def _check_open(self) -> None:
        if self._closed:
            raise ValueError("the store is closed")

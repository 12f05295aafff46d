"""Writing the foods of an import into the store, inside one transaction."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator
from itertools import islice
from typing import Any

import msgspec

from reformulate.foods.store.figures import packed
from reformulate.foods.store.provenance import SourceFile
from reformulate.foods.store.record import BRANDED, Record
from reformulate.foods.store.schema import place_of, serial_of
from reformulate.foods.store.tally import Skipped
from reformulate.foods.store.watch import WRITTEN_UP_TO, Watch
from reformulate.foods.store.words import indexed

_BATCH = 1000
_STEPS = 100_000  # of SQLite's machine between two looks at whether to stop


class Writer:
    """Replaces the collections that an import brings, one food after another."""

    def __init__(self, connection: sqlite3.Connection, watch: Watch, now: str) -> None:
        self._db = connection
        self._watch = watch
        self._now = now
        self._sources: dict[str, int] = {}
        self.replaced = 0
        connection.set_progress_handler(watch.asked_to_stop, _STEPS)
        connection.create_function("place_serial", 1, serial_of, deterministic=True)
        connection.create_function("indexed", 3, indexed, deterministic=True)
        self._serial = 1 + self._one("SELECT coalesce(max(place_serial(id)), 0) FROM foods")

    def write(self, records: Iterable[Record], *, picked: Callable[[], bool]) -> int:
        """Write the foods; return how many.

        Foods of an earlier import of the same collection make way, or, for picked foods, only
        those with the same key. ``picked`` is asked when the first food of a collection is there.
        """
        count = 0
        rows = iter(records)
        while batch := list(islice(rows, _BATCH)):
            self._watch.check()
            for kind in dict.fromkeys(record.kind for record in batch):
                if kind not in self._sources:
                    self._begin(kind, picked=picked())
            marks = ",".join("?" * len(batch))
            keys = [record.food.key for record in batch]
            self.replaced += self._db.execute(
                f"DELETE FROM foods WHERE key IN ({marks})",  # noqa: S608 - question marks
                keys,
            ).rowcount
            self._db.executemany(
                "INSERT INTO foods VALUES(?,?,?,?,?,?,?,?,?,?,?,?)", self._rows(batch)
            )
            count += len(batch)
        return count

    def finish(
        self, release: str, files: tuple[SourceFile, ...], skipped: tuple[Skipped, ...]
    ) -> list[int]:
        """Write down where the foods come from, and index all names; return the sources' ids."""
        self._db.executemany(
            "UPDATE sources SET release=?, files=?, skipped=? WHERE id=?",
            [(release, _json(files), _json(skipped), source) for source in self._sources.values()],
        )
        self._db.execute(
            "DELETE FROM sources WHERE NOT EXISTS"
            " (SELECT 1 FROM foods WHERE foods.source = sources.id)"
        )
        self._watch.tell(WRITTEN_UP_TO, "Indexing the names")
        self._db.execute("INSERT INTO names(names) VALUES('delete-all')")
        self._db.execute(
            "INSERT INTO names(rowid, terms)"
            " SELECT id, indexed(name, words, key) FROM foods ORDER BY id"
        )
        self._watch.tell(0.96, "Indexing the names")
        self._db.execute("INSERT INTO names(names) VALUES('optimize')")
        self._db.execute("CREATE VIRTUAL TABLE temp.terms USING fts5vocab(main, names, row)")
        self._db.execute("DELETE FROM spellings")
        self._db.execute("INSERT INTO spellings SELECT term, doc FROM temp.terms")
        self._db.execute("DROP TABLE temp.terms")
        self._watch.tell(0.99, "Writing to disk")
        return list(self._sources.values())

    def _begin(self, kind: str, *, picked: bool) -> None:
        if not picked:
            self.replaced += self._db.execute(
                "DELETE FROM foods WHERE source IN"
                " (SELECT id FROM sources WHERE kind=? AND NOT picked)",
                (kind,),
            ).rowcount
        added = self._db.execute(
            "INSERT INTO sources(kind, release, picked, imported_at, files, skipped)"
            " VALUES(?, '', ?, ?, '[]', '[]')",
            (kind, picked, self._now),
        )
        self._sources[kind] = int(added.lastrowid or 0)

    def _rows(self, batch: list[Record]) -> Iterator[tuple[Any, ...]]:
        for record in batch:
            food = record.food
            self._serial += 1
            yield (
                place_of(food.name, branded=record.kind == BRANDED, serial=self._serial),
                food.key,
                self._sources[record.kind],
                food.name,
                food.group,
                ";".join(food.words),
                food.source,
                food.ndb,
                food.edible_share,
                food.note,
                packed(record.figures),
                _json([(m.unit, m.grams, m.qualifier, m.source) for m in food.measures]),
            )

    def _one(self, query: str) -> int:
        return int(self._db.execute(query).fetchone()[0])


def _json(value: object) -> str:
    return msgspec.json.encode(value).decode()

"""All or nothing, told while it goes on, and written down afterwards."""

from __future__ import annotations

import hashlib
import sqlite3
import subprocess
import sys
import threading
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from reformulate.errors import FileProblem
from reformulate.foods.store import FoodStore, default_store_path, import_release
from tests.foods.store.releases import (
    abbreviated,
    amount,
    csv_folder,
    digest,
    food,
    imported,
    json_file,
    json_food,
    names,
    refused,
    written,
)

MANY = 3000


@pytest.fixture
def store(tmp_path: Path) -> Path:
    return tmp_path / "foods.sqlite"


@pytest.fixture
def standard(tmp_path: Path) -> Path:
    return written(tmp_path / "sr28", "ABBREV.txt", abbreviated("01001", "BUTTER", at3="717"))


@pytest.fixture
def central(tmp_path: Path) -> Path:
    foods = [food(i, f"Dip {i}") for i in range(1, MANY + 1)]
    amounts = [amount(i, 1008, i % 900) for i in range(1, MANY + 1)]
    return csv_folder(tmp_path / "csv_2024-04-18", foods, amounts)


def many_as_json(folder: Path) -> Path:
    return json_file(folder, *(json_food(i, f"Dip {i}") for i in range(1, MANY + 1)))


def test_collections_stand_beside_each_other_and_each_replaces_itself(
    standard: Path, central: Path, tmp_path: Path, store: Path
) -> None:
    imported(standard, store)
    imported(central, store)
    fewer = csv_folder(tmp_path / "csv_2025-04-24", [food(2, "Dip of now")], [amount(2, 1008, 5)])
    done = imported(fewer, store)
    assert (done.foods, done.replaced) == (1, MANY)
    assert names(store) == ["Butter", "Dip of now"]
    with FoodStore.open(store) as opened:
        assert [source.title for source in opened.sources()] == [
            "Standard Reference, SR28",
            "SR Legacy, 2025-04-24",
        ]
        assert opened.search("dip") == opened.search("dip of now")


def test_importing_twice_gives_the_same_foods(central: Path, store: Path) -> None:
    imported(central, store)
    keys = [f"fdc:{i}" for i in range(1, MANY + 1)]
    with FoodStore.open(store) as opened:
        before = opened.table(keys)
        imported(central, store)
        after = opened.table(keys)
        assert opened.count() == MANY
    assert before.foods == after.foods
    assert (before.values == after.values).all()


def test_where_foods_come_from_is_written_down(standard: Path, store: Path) -> None:
    noon = datetime(2025, 1, 2, 12, 0, tzinfo=UTC)
    (source,) = imported(standard, store, now=noon).sources
    with FoodStore.open(store) as opened:
        assert opened.sources() == (source,)
    (file,) = source.files
    raw = standard.read_bytes()
    assert (source.kind, source.release, source.foods) == ("Standard Reference", "SR28", 1)
    assert source.imported_at == "2025-01-02T12:00:00+00:00"
    assert (file.name, file.size, file.rows) == ("ABBREV.txt", len(raw), 1)
    assert file.sha256 == hashlib.sha256(raw).hexdigest()
    assert datetime.fromisoformat(file.modified).timestamp() == int(standard.stat().st_mtime)


def test_progress_rises_to_the_end_and_says_what_is_done(central: Path, store: Path) -> None:
    told: list[tuple[float, str]] = []
    imported(central, store, progress=lambda done, words: told.append((done, words)))
    fractions = [fraction for fraction, _ in told]
    assert fractions == sorted(fractions)
    assert fractions[0] == 0
    assert fractions[-1] == 1
    words = list(dict.fromkeys(word for _, word in told))
    assert words == [
        "Looking at the files",
        "Reading food.csv",
        "Reading food_nutrient.csv",
        "Writing the foods",
        "Indexing the names",
        "Writing to disk",
        "Done",
    ]


class StopAt:
    """Asks to stop as soon as the progress has been told so many times."""

    def __init__(self, moment: int = -1) -> None:
        self.asked = threading.Event()
        self.words: list[str] = []
        self._moment = moment

    def __call__(self, _: float, words: str) -> None:
        self.words.append(words)
        if len(self.words) == self._moment:
            self.asked.set()


@pytest.mark.parametrize("as_event", [True, False])
def test_a_cancelled_import_leaves_the_store_byte_for_byte(
    standard: Path, central: Path, tmp_path: Path, store: Path, as_event: bool
) -> None:
    imported(standard, store)
    before = digest(store)
    stages = set()
    for download in (central, many_as_json(tmp_path)):
        whole = StopAt()
        imported(download, tmp_path / "other.sqlite", progress=whole)
        for moment in range(1, len(whole.words)):
            stop = StopAt(moment)
            cancel = stop.asked if as_event else stop.asked.is_set
            assert import_release(download, store, progress=stop, cancel=cancel) is None
            assert digest(store) == before
            stages.add(stop.words[-1])
    assert {"Reading food.csv", "Writing the foods", "Writing to disk"} <= stages


def test_a_cancelled_first_import_leaves_no_file(central: Path, tmp_path: Path) -> None:
    store = tmp_path / "new" / "foods.sqlite"
    assert import_release(central, store, cancel=lambda: True) is None
    seen: list[str] = []

    def stop() -> bool:
        return "Indexing the names" in seen

    told = lambda _, words: seen.append(words)  # noqa: E731
    assert import_release(central, store, progress=told, cancel=stop) is None
    assert not store.exists()
    assert list(store.parent.iterdir()) == []


def test_a_failed_import_leaves_the_store_byte_for_byte(
    standard: Path, tmp_path: Path, store: Path
) -> None:
    imported(standard, store)
    before = digest(store)
    whole = many_as_json(tmp_path).read_text("utf-8")
    broken = written(tmp_path, "broken.json", whole[:-40])
    assert "The file is broken off" in refused(broken, store)
    assert digest(store) == before
    assert names(store) == ["Butter"]


def test_a_mistake_in_the_listener_undoes_the_import_and_is_not_hidden(
    standard: Path, central: Path, store: Path
) -> None:
    imported(standard, store)
    before = digest(store)

    def told(fraction: float, words: str) -> None:
        if fraction > 0.8:
            raise ZeroDivisionError(words)

    with pytest.raises(ZeroDivisionError):
        import_release(central, store, progress=told)
    assert digest(store) == before


KILLED = """
import os, sys
from pathlib import Path
from reformulate.foods.store import import_release
def told(fraction, words):
    if words == sys.argv[3]:
        os._exit(7)
import_release(Path(sys.argv[1]), Path(sys.argv[2]), progress=told)
"""


@pytest.mark.parametrize("moment", ["Writing the foods", "Writing to disk"])
def test_a_program_that_dies_half_way_loses_nothing(
    standard: Path, central: Path, store: Path, moment: str
) -> None:
    imported(standard, store)
    died = subprocess.run(
        [sys.executable, "-c", KILLED, str(central), str(store), moment], check=False
    )
    assert died.returncode == 7
    assert names(store) == ["Butter"]
    assert imported(central, store).foods == MANY


def test_whoever_searches_meanwhile_finds_what_was_there(
    standard: Path, central: Path, store: Path
) -> None:
    imported(standard, store)
    found = []
    with FoodStore.open(store) as opened:

        def told(fraction: float, words: str) -> None:
            found.append([hit.key for hit in opened.search("butter")])
            assert opened.search("dip") == ()

        imported(central, store, progress=lambda f, w: told(f, w) if f < 1 else None)
        assert found
        assert all(keys == ["ndb:01001"] for keys in found)
        assert len(opened.search("dip", 50)) == 50


def test_two_imports_at_once_do_not_mix(standard: Path, central: Path, store: Path) -> None:
    imported(standard, store)
    before = digest(store)
    with closing(sqlite3.connect(store, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        told = refused(central, store)
        other.execute("ROLLBACK")
    assert "Another import is writing to the store." in told
    assert digest(store) == before


def test_a_full_disk_is_told_and_leaves_the_store(
    standard: Path, central: Path, store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    imported(standard, store)
    before = digest(store)
    connect = sqlite3.connect

    def small(*arguments: object, **options: object) -> sqlite3.Connection:
        made = connect(*arguments, **options)  # type: ignore[call-overload]
        made.execute("PRAGMA max_page_count=60")
        return made  # type: ignore[no-any-return]

    monkeypatch.setattr(sqlite3, "connect", small)
    with pytest.raises(FileProblem) as caught:
        import_release(central, store)
    monkeypatch.undo()
    assert "Make room" in str(caught.value)
    assert digest(store) == before


@pytest.mark.parametrize(
    ("raw", "what"),
    [
        (b"This is no database, but long enough to look at. " * 9, "damaged"),
        (b"SQLite format 3\0" + b"\x10\x00\x01\x01\0\x40\x20\x20" + bytes(900), "damaged"),
    ],
)
def test_a_file_that_is_no_store_is_told_and_left_alone(
    standard: Path, store: Path, raw: bytes, what: str
) -> None:
    store.write_bytes(raw)
    told = refused(standard, store)
    assert what in told
    assert "Move the file away" in told
    assert store.read_bytes() == raw


def test_a_database_of_another_program_is_left_alone(standard: Path, store: Path) -> None:
    with closing(sqlite3.connect(store)) as other:
        other.execute("CREATE TABLE theirs(a)")
        other.commit()
    before = digest(store)
    assert "another program" in refused(standard, store)
    assert digest(store) == before


def test_a_store_of_a_newer_program_is_left_alone(standard: Path, store: Path) -> None:
    imported(standard, store)
    with closing(sqlite3.connect(store)) as other:
        other.execute("PRAGMA user_version=99")
        other.commit()
    assert "newer version (format 99, known: 1)" in refused(standard, store)


def test_a_place_that_cannot_be_written_is_told(standard: Path, tmp_path: Path) -> None:
    blocked = written(tmp_path, "file", "in the way")
    assert "cannot be written" in refused(standard, blocked / "foods.sqlite")
    assert "cannot be opened" in refused(standard, tmp_path)


def test_the_users_own_store_stands_in_the_data_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    path = default_store_path()
    assert path.name == "foods.sqlite"
    assert path.is_absolute()

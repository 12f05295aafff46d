"""The store as it is used: opened, asked from any thread, read back as foods, closed."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Barrier

import numpy as np
import pytest

from reformulate.errors import BadInput, FileProblem
from reformulate.foods import INDEX, NUTRIENTS, FoodTable, food_table
from reformulate.foods.store import FoodStore
from tests.foods.store.releases import (
    abbreviated,
    amount,
    csv_folder,
    food,
    imported,
    written,
)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    store = tmp_path / "foods.sqlite"
    rows = "".join(
        abbreviated(ndb, name, at3=energy)
        for ndb, name, energy in [("01001", "BUTTER", "717"), ("01009", "CHEDDAR", "403")]
    )
    imported(written(tmp_path / "sr28", "ABBREV.txt", rows), store)
    foods = [food(i, f"Dip {i}") for i in range(1, 800)]
    amounts = [amount(i, 1003, 5) for i in range(1, 800)]
    imported(csv_folder(tmp_path / "csv", foods, amounts), store)
    return store


def test_foods_come_back_as_a_table_in_the_order_asked(path: Path) -> None:
    with FoodStore.open(path) as store:
        table = store.table(["fdc:2", "ndb:1001", " ndb:01001", "fdc:1", "fdc:2"])
    assert isinstance(table, FoodTable)
    assert [f.key for f in table] == ["fdc:2", "ndb:01001", "fdc:1"]
    assert table.values.shape == table.known.shape == (3, len(NUTRIENTS))
    assert table.values[:, INDEX["protein_g"]].tolist() == [5, 0, 5]
    assert table.known[:, INDEX["protein_g"]].tolist() == [True, False, True]
    assert np.isnan(table.prices).all()


def test_a_table_of_nothing_is_empty(path: Path) -> None:
    with FoodStore.open(path) as store:
        assert len(store.table([])) == 0


def test_many_foods_come_back_at_once(path: Path) -> None:
    keys = [f"fdc:{i}" for i in range(799, 0, -1)]
    with FoodStore.open(path) as store:
        assert [f.key for f in store.table(keys)] == keys


def test_foods_of_the_store_merge_behind_the_programs_own(path: Path) -> None:
    ours = food_table()
    with FoodStore.open(path) as store:
        merged = ours.merged(store.table(["ndb:01001", "fdc:1"]))
    assert merged.food("ndb:01001").key == ours.food("ndb:01001").key
    assert merged.food("fdc:1").name == "Dip 1"


def test_all_unknown_keys_are_told(path: Path) -> None:
    with FoodStore.open(path) as store, pytest.raises(BadInput) as caught:
        store.table(["fdc:1", "fdc:9999", "ndb:7", "onion", "", "'; DROP TABLE foods"])
    assert [problem.where for problem in caught.value.problems] == [
        *("food “fdc:9999”", "food “ndb:00007”", "food “onion”", "food “”"),
        "food “'; DROP TABLE foods”",
    ]
    assert all("import the release" in problem.fix for problem in caught.value.problems)


def test_a_store_says_what_it_holds(path: Path) -> None:
    with FoodStore.open(path) as store:
        assert store.path == path
        assert store.count() == 801
        assert "ndb:01001" in store
        assert "fdc:801" not in store
        assert 7 not in store


def test_a_store_that_is_not_made_yet_is_empty_until_an_import_makes_it(tmp_path: Path) -> None:
    path = tmp_path / "new" / "foods.sqlite"
    with FoodStore.open(path) as store:
        assert store.search("butter") == ()
        assert store.sources() == ()
        assert store.count() == 0
        assert "ndb:01001" not in store
        with pytest.raises(BadInput, match="no food with this key"):
            store.table(["ndb:01001"])
        assert not path.exists()
        imported(written(tmp_path, "ABBREV.txt", abbreviated("01001", at3="1")), path)
        assert [hit.key for hit in store.search("dip")] == ["ndb:01001"]


def test_threads_ask_at_once_and_get_what_one_would(path: Path) -> None:
    texts = ["dip", "butter", "dip 7", "ched", "fdc:12"] * 8
    with FoodStore.open(path) as store:
        alone = [store.search(text) for text in texts]
        start = Barrier(8)

        def ask(text: str) -> object:
            start.wait(10)  # in fives of eight: all threads at once
            return store.search(text)

        with ThreadPoolExecutor(8) as pool:
            assert list(pool.map(ask, texts)) == alone


def test_a_closed_store_says_so(path: Path) -> None:
    store = FoodStore.open(path)
    with ThreadPoolExecutor(2) as pool:
        list(pool.map(store.search, ["a", "b", "c"]))
    store.close()
    store.close()
    with pytest.raises(ValueError, match="closed"):
        store.search("butter")


def test_opening_what_is_no_store_is_told_with_a_way_out(tmp_path: Path) -> None:
    path = written(tmp_path, "foods.sqlite", "hello " * 500)
    with pytest.raises(FileProblem) as caught:
        FoodStore.open(path)
    assert "damaged" in str(caught.value)
    assert "import your downloads again" in str(caught.value)


def test_a_damaged_store_is_told_when_it_is_asked(path: Path) -> None:
    raw = bytearray(path.read_bytes())
    raw[4096 * 2 :] = b"\xff" * (len(raw) - 4096 * 2)
    path.write_bytes(raw)

    def use() -> None:
        with FoodStore.open(path) as store:
            store.search("dip")
            store.table(["fdc:1"])
            store.sources()

    with pytest.raises(FileProblem, match="damaged"):
        use()

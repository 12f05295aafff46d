"""Whatever the bytes are: foods, or a problem that can be put right; never anything else."""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.errors import BadInput
from reformulate.foods import INDEX
from reformulate.foods.store import FoodStore, Imported, import_release
from tests.foods.store.releases import (
    AMOUNT,
    FOOD,
    abbreviated,
    amount,
    csv_folder,
    described,
    food,
    imported,
    json_amount,
    json_food,
    names,
    table,
    written,
    zipped,
)

Files = dict[str, bytes]

STANDARD: Files = {
    "ABBREV.txt": "".join(abbreviated(f"{n:05}", at3="40", at48="9") for n in range(1, 6)).encode(),
    "FOOD_DES.txt": "".join(described(f"{n:05}", f"Dip {n}") for n in range(1, 6)).encode(),
    "WEIGHT.txt": b"~00001~^1^1^~cup~^227^^\r\n~00002~^1^2^~tbsp~^30^^\r\n",
    "FD_GROUP.txt": b"~0100~^~Dips~\r\n",
}
CENTRAL: Files = {
    "food.csv": table(FOOD, [food(n, f"Dip {n}") for n in range(1, 6)]).encode(),
    "food_nutrient.csv": table(AMOUNT, [amount(n, 1008, 10) for n in range(1, 6)]).encode(),
    "nutrient.csv": b'"id","name","unit_name","nutrient_nbr"\n"1008","Energy","KCAL","208"\n',
    "food_portion.csv": b'"fdc_id","gram_weight","amount","modifier"\n"1","9","1","cup"\n',
    "branded_food.csv": b'"fdc_id","serving_size","serving_size_unit"\n"1","30","g"\n',
}
JSON: Files = {
    "foods.json": json.dumps(
        {
            "FoundationFoods": [
                json_food(n, f"Dip {n}", servingSize=3, labelNutrients={"fat": {"value": 1}})
                for n in range(1, 6)
            ]
        }
    ).encode()
}
RELEASES = [STANDARD, CENTRAL, JSON]


def check(error: BadInput) -> None:
    """Every problem has a place, a cause and a remedy, and is no essay."""
    assert error.problems
    for problem in error.problems:
        assert problem.where
        assert problem.what
        assert problem.fix
        assert len(str(problem)) < 2000


@contextmanager
def tried(files: Files, *, packed: bool = False) -> Iterator[tuple[Imported | None, Path]]:
    """Import files beside a store that holds one food already."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        store = folder / "foods.sqlite"
        before = written(folder / "old", "old.json", json.dumps([json_food(77_777, "Old")]))
        imported(before, store)
        for part, raw in files.items():
            written(folder / "new", part, raw)
        download = zipped(folder / "new.zip", files) if packed else folder / "new"
        try:
            done = import_release(download, store)
        except BadInput as error:
            check(error)
            done = None
        yield done, store


def sound(done: Imported | None, store: Path) -> None:
    """What was there is there; what came in has figures that can be."""
    found = names(store)
    assert "Old" in found
    if done is None:
        assert found == ["Old"]
        return
    with FoodStore.open(store) as opened:
        assert opened.count() == done.foods + 1 - done.replaced
        foods = opened.table([hit.key for hit in opened.search("", 1000)])
    assert all(food.name.strip() and food.key for food in foods)
    assert (foods.values >= 0).all()
    assert np.isfinite(foods.values).all()
    assert foods.known.any(axis=1).all()


@st.composite
def spoilt(draw: st.DrawFn) -> Files:
    """A sound release of any layout in which some bytes are cut, repeated, put in or changed."""
    files = dict(draw(st.sampled_from(RELEASES)))
    for _ in range(draw(st.integers(1, 3))):
        name = draw(st.sampled_from(sorted(files)))
        raw = files[name]
        at, to = sorted(draw(st.tuples(*[st.integers(0, len(raw))] * 2)))
        new = draw(st.binary(max_size=12) | st.sampled_from(RUINS))
        files[name] = draw(
            st.sampled_from(
                [raw[:at], raw[:at] + new + raw[to:], raw[:at] + new + raw[at:], raw + raw[at:to]]
            )
        )
    return files


RUINS = [
    *[b"\0", b"\xff\xfe", b'"', b"~", b"^", b",", b"\n", b"\r", b"\r\n\r\n", b"\xe9", b"\x1a"],
    *[b"1e999", b"-1", b"NaN", b"null", b"[[[[", b"{}", b"\\ud800", b'"fdcId": 1,', b"9" * 30],
    *["\u202e".encode(), "\u2028".encode(), b"\xef\xbb\xbf", b"nan", b"inf", b"0x1f", b"1_0"],
]


@given(spoilt())
def test_a_spoilt_release_gives_foods_or_a_problem(files: Files) -> None:
    with tried(files) as (done, store):
        sound(done, store)


@given(spoilt())
def test_a_spoilt_release_in_an_archive_gives_foods_or_a_problem(files: Files) -> None:
    with tried(files, packed=True) as (done, store):
        sound(done, store)


@given(st.sampled_from(RELEASES), st.data())
def test_a_spoilt_archive_gives_foods_or_a_problem(files: Files, data: st.DataObject) -> None:
    with tempfile.TemporaryDirectory() as name:
        raw = bytearray(zipped(Path(name) / "x.zip", files).read_bytes())
        for _ in range(data.draw(st.integers(1, 4))):
            raw[data.draw(st.integers(0, len(raw) - 1))] = data.draw(st.integers(0, 255))
        path = written(Path(name), "y.zip", bytes(raw[: data.draw(st.integers(0, len(raw)))]))
        try:
            import_release(path, Path(name) / "foods.sqlite")
        except BadInput as error:
            check(error)


@given(
    st.sampled_from(["ABBREV.txt", "abbrev.csv", "food.csv", "foods.json", "x.zip", "any.txt"]),
    st.binary(max_size=300) | st.text(max_size=200).map(lambda text: text.encode("utf-8")),
)
def test_any_bytes_under_any_name_give_a_problem(name: str, raw: bytes) -> None:
    with tried({name: raw}) as (done, store):
        sound(done, store)


values: st.SearchStrategy[Any] = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=9),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=8,
)
FIELDS = [
    *["fdcId", "dataType", "description", "foodNutrients", "foodPortions", "foodCategory"],
    *["wweiaFoodCategory", "ndbNumber", "brandOwner", "servingSize", "servingSizeUnit"],
    *["householdServingFullText", "labelNutrients", "brandedFoodCategory"],
]


@given(st.lists(st.dictionaries(st.sampled_from(FIELDS), values, max_size=4), max_size=4))
def test_json_foods_with_fields_of_any_shape_give_foods_or_a_problem(
    odd: list[dict[str, Any]],
) -> None:
    foods = [json_food(number) | fields for number, fields in enumerate(odd, 1)]
    raw = json.dumps({"Foods": [json_food(99, "Sound"), *foods]}).encode()
    with tried({"foods.json": raw}) as (done, store):
        assert done is not None
        assert "Sound" in names(store)
        sound(done, store)


@given(
    st.lists(
        st.tuples(
            st.integers(1, 10**8 - 1),
            st.text(
                st.characters(codec="utf-8", exclude_categories=["Cc"]), min_size=1, max_size=60
            ),
            st.floats(0, 900),
            st.none() | st.floats(0, 1e5),
        ),
        min_size=1,
        max_size=6,
        unique_by=lambda row: row[0],
    ),
    st.sampled_from(["csv", "json"]),
)
def test_what_is_written_comes_back(
    rows: list[tuple[int, str, float, float | None]], layout: str
) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder, store = Path(name), Path(name) / "foods.sqlite"
        rows = [row for row in rows if row[1].strip() and row[1].isprintable()]
        if not rows:
            return
        if layout == "csv":
            foods = [food(number, text) for number, text, _, _ in rows]
            amounts = [amount(number, 1008, energy) for number, _, energy, _ in rows]
            amounts += [amount(n, 1093, "" if salt is None else salt) for n, _, _, salt in rows]
            imported(csv_folder(folder / "x", foods, amounts), store)
        else:
            whole = [
                json_food(n, text, foodNutrients=[json_amount(1008, kcal), json_amount(1093, salt)])
                for n, text, kcal, salt in rows
            ]
            imported(written(folder, "x.json", json.dumps({"Foods": whole})), store)
        with FoodStore.open(store) as opened:
            read = opened.table([f"fdc:{number}" for number, *_ in rows])
            hits = {hit.key for hit in opened.search("", 100)}
    assert hits == {f"fdc:{number}" for number, *_ in rows}
    for i, (_, text, energy, salt) in enumerate(rows):
        assert bare(read.foods[i].name) == bare(text)
        assert read.values[i, INDEX["energy_kcal"]] == energy
        assert read.known[i, INDEX["sodium_mg"]] == (salt is not None)
        assert read.values[i, INDEX["sodium_mg"]] == (salt or 0.0)


def bare(name: str) -> str:
    """A name in capitals comes back as a sentence, with blanks after its commas."""
    return "".join(name.split()).casefold()


WATCHED = """
import sys
from pathlib import Path
from reformulate.errors import BadInput
from reformulate.foods.store import import_release
for path in sys.argv[2:]:
    try:
        import_release(Path(path), Path(sys.argv[1]))
    except BadInput as error:
        print(error)
peak = next(line for line in open("/proc/self/status") if line.startswith("VmHWM"))
print(int(peak.split()[1]) // 1024)
"""
MB = 2**20


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="peak memory is told on Linux")
def test_hostile_files_take_little_memory_and_time(tmp_path: Path) -> None:
    make: dict[str, Callable[[], bytes]] = {
        "line.csv": lambda: b"NDB_No," + b"x" * (50 * MB),
        "fields.csv": lambda: b"NDB_No," + b"," * (50 * MB),
        "rows.csv": lambda: b"NDB_No,Shrt_Desc\n" + b"1,x\n" * (4 * MB),
        "text.json": lambda: b'{"F":["' + b"x" * (50 * MB),
        "nest.json": lambda: b'{"F":[' + b"[" * (50 * MB),
        "food.json": lambda: b'{"F":[{"foodNutrients":[' + b"{}," * (15 * MB),
        "beside.json": lambda: b'{"F":[' + b"[],{}," * (8 * MB),
        "number.json": lambda: b'{"F":[' + b"1" * (50 * MB),
        "fraction.json": lambda: b'{"F":[0.' + b"1" * (50 * MB),
        "names.json": lambda: b"{" + b'"a":1,' * (8 * MB),
        "blanks.json": lambda: b" " * (50 * MB),
        "one.json": lambda: b'{"fdcId":1,"x":[' + b"{}," * MB + b"{}]}",
    }
    paths = [str(written(tmp_path, name, raw())) for name, raw in make.items()]
    found = subprocess.run(
        [sys.executable, "-c", WATCHED, str(tmp_path / "foods.sqlite"), *paths],
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    *told, peak = found.stdout.splitlines()
    assert len(told) >= len(make)
    assert int(peak) < 300
    assert found.stderr == ""

"""Importing the Standard Reference in its ASCII form and beside it."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import numpy as np
import pytest

from reformulate.foods import INDEX, read_release
from reformulate.foods.store import FoodStore
from tests.foods.store.releases import (
    ENERGY_AT,
    GRAMS_AT,
    REFUSE_AT,
    abbreviated,
    described,
    figure,
    imported,
    names,
    refused,
    shared_file,
    written,
)

E, G, R = f"at{ENERGY_AT}", f"at{GRAMS_AT}", f"at{REFUSE_AT}"


@pytest.fixture
def store(tmp_path: Path) -> Path:
    return tmp_path / "data" / "foods.sqlite"


@pytest.mark.parametrize("release", ["sr26/ABBREV.txt", "sr28/abbrev.csv"])
def test_every_figure_of_a_release_is_that_of_its_abbreviated_file(
    release: str, store: Path
) -> None:
    path = shared_file(release)
    expected = read_release(path)
    done = imported(path.parent, store)
    assert done.foods == len(expected)
    with FoodStore.open(store) as opened:
        found = opened.table([food.key for food in expected])
    assert [food.key for food in found] == [food.key for food in expected]
    assert np.array_equal(found.values, expected.values)
    assert np.array_equal(found.known, expected.known)
    assert [food.edible_share for food in found] == [food.edible_share for food in expected]
    assert [food.ndb for food in found] == [food.ndb for food in expected]


def test_release_26_brings_its_descriptions_groups_and_all_household_weights(store: Path) -> None:
    done = imported(shared_file("sr26/ABBREV.txt").parent, store)
    assert [source.title for source in done.sources] == ["Standard Reference, SR26"]
    assert [(file.name, file.rows) for file in done.sources[0].files] == [
        ("FD_GROUP.txt", 25),
        ("FOOD_DES.txt", 8463),
        ("WEIGHT.txt", 15137),
        ("ABBREV.txt", 8463),
    ]
    assert done.skipped == ()
    with FoodStore.open(store) as opened:
        butter = opened.table(["ndb:1001"]).foods[0]
    assert (butter.key, butter.name, butter.source) == (
        "ndb:01001",
        "Butter, salted",
        "NDB 01001, SR26",
    )
    assert butter.group == "Dairy and Egg Products"
    assert [(m.unit, m.qualifier, m.grams) for m in butter.measures] == [
        ("piece", 'pat (1" sq, 1/3" high)', 5.0),
        ("tbsp", "", 14.2),
        ("cup", "", 227.0),
        ("stick", "", 113.0),
    ]


def test_a_single_abbreviated_file_is_enough_and_may_have_any_name(
    tmp_path: Path, store: Path
) -> None:
    path = written(
        tmp_path, "mine.txt", abbreviated("01009", "DIP,PLAIN", **{E: "40", R: "25", G: "20"})
    )
    imported(path, store, release="SR99")
    with FoodStore.open(store) as opened:
        (found,) = opened.table(["ndb:01009"])
    assert (found.name, found.source) == ("Dip, plain", "NDB 01009, SR99")
    assert found.edible_share == 0.75
    assert figure(store, "ndb:01009", "energy_kcal") == 40
    assert figure(store, "ndb:01009", "added_sugars_g") is None
    assert figure(store, "ndb:01009", "sodium_mg") is None


def test_the_two_weights_of_the_abbreviated_file_serve_where_there_is_no_other(
    tmp_path: Path, store: Path
) -> None:
    row = abbreviated("01009", **{E: "40", "at48": "240", "at49": "1 cup", "at50": "15"})
    imported(written(tmp_path, "ABBREV.txt", row), store)
    with FoodStore.open(store) as opened:
        (found,) = opened.table(["ndb:01009"])
    assert [(m.unit, m.grams) for m in found.measures] == [("cup", 240.0)]


def test_the_full_release_is_read_from_its_amounts(tmp_path: Path, store: Path) -> None:
    folder = tmp_path / "sr28asc"
    written(folder, "FD_GROUP.txt", "~0100~^~Dips~\r\n")
    written(folder, "FOOD_DES.txt", described("01009", "Dip, of beans", common="spread; paste"))
    rest = "^".join([""] * 15)
    written(
        folder,
        "NUT_DATA.txt",
        f"~01009~^~208~^120^{rest}\r\n~01009~^~539~^1.5^{rest}\r\n~01009~^~601~^0^{rest}\r\n"
        f"~01009~^~318~^10^{rest}\r\n~01009~^~221~^9^{rest}\r\n",
    )
    imported(folder, store)
    with FoodStore.open(store) as opened:
        (found,) = opened.table(["ndb:01009"])
        assert [hit.key for hit in opened.search("paste")] == ["ndb:01009"]
    assert (found.name, found.group, found.words) == ("Dip, of beans", "Dips", ("spread", "paste"))
    assert found.source == "NDB 01009, SR28"
    assert "IU" in found.note
    assert figure(store, "ndb:01009", "energy_kcal") == 120
    assert figure(store, "ndb:01009", "added_sugars_g") == 1.5
    assert figure(store, "ndb:01009", "cholesterol_mg") == 0
    assert figure(store, "ndb:01009", "vitamin_a_ug") is None


def test_a_release_takes_the_place_of_an_earlier_one(store: Path) -> None:
    imported(shared_file("sr26/ABBREV.txt").parent, store)
    done = imported(shared_file("sr28/abbrev.csv").parent, store)
    assert done.replaced == 8463
    with FoodStore.open(store) as opened:
        assert [source.title for source in opened.sources()] == ["Standard Reference, SR28"]
        assert opened.count() == 8790


def test_latin_letters_are_read_and_counted(tmp_path: Path, store: Path) -> None:
    rows = abbreviated("01001", "CR\u00c8ME", **{E: "1"}) + abbreviated("01002", "DIP", **{E: "2"})
    done = imported(written(tmp_path, "ABBREV.txt", rows.encode("latin-1")), store)
    assert names(store) == ["Cr\u00e8me", "Dip"]
    assert [file.latin_lines for file in done.sources[0].files] == [1]


def test_a_byte_order_mark_is_no_part_of_the_first_field(tmp_path: Path, store: Path) -> None:
    row = b"\xef\xbb\xbf" + abbreviated("01001", "DIP", **{E: "1"}).encode()
    imported(written(tmp_path, "ABBREV.txt", row), store)
    assert names(store) == ["Dip"]


def test_broken_rows_are_left_out_and_told_with_their_line(tmp_path: Path, store: Path) -> None:
    rows = [
        abbreviated("01001", "GOOD", **{E: "1"}),
        abbreviated("1001X", "BAD NUMBER", **{E: "1"}),
        abbreviated("01001", "TWICE", **{E: "1"}),
        abbreviated("01003", "ODD FIGURE", **{E: "much", "at4": "2"}),
        "~01004~^~SHORT ROW~\r\n",
        abbreviated("01005", "ODD REFUSE", **{E: "1", R: "200"}),
        abbreviated("01006", "NO FIGURES AT ALL"),
        "\r\n",
    ]
    done = imported(written(tmp_path, "ABBREV.txt", "".join(rows)), store)
    assert names(store) == ["Good", "Odd figure", "Odd refuse"]
    assert figure(store, "ndb:01003", "energy_kcal") is None
    assert figure(store, "ndb:01003", "protein_g") == 2
    told = {each.what: each.places for each in done.skipped}
    assert told == {
        "The number of the food is not up to five digits.": ("ABBREV.txt, line 2",),
        "The number of the food stands there twice.": ("ABBREV.txt, line 3",),
        "Energ_Kcal is no number.": ("ABBREV.txt, line 4",),
        "The row has not the 53 fields of its file.": ("ABBREV.txt, line 5",),
        "The refuse is no percentage: taken as none.": ("NDB 01005",),
        "There are no figures for it.": ("NDB 01006",),
    }


def test_a_described_food_without_figures_is_left_out(tmp_path: Path, store: Path) -> None:
    folder = tmp_path / "sr"
    written(folder, "ABBREV.txt", abbreviated("01001", **{E: "1"}))
    written(folder, "FOOD_DES.txt", described("01001", "Dip") + described("01002", "No figures"))
    done = imported(folder, store)
    assert names(store) == ["Dip"]
    assert [(each.what, each.places) for each in done.skipped] == [
        ("There are no figures for it.", ("NDB 01002",))
    ]


def test_a_file_that_ends_within_a_row_is_refused(tmp_path: Path, store: Path) -> None:
    rows = abbreviated("01001", **{E: "1"}) + abbreviated("01002", **{E: "1"})[:40]
    told = refused(written(tmp_path, "ABBREV.txt", rows), store)
    assert told.startswith("ABBREV.txt, line 2: The file ends in the middle of a row")
    assert not store.exists()


def test_a_file_of_mostly_broken_rows_is_refused(tmp_path: Path, store: Path) -> None:
    rows = [abbreviated(f"{n:05}", **{E: "1" if n > 30 else "x"}) for n in range(1, 301)]
    told = refused(written(tmp_path, "ABBREV.txt", "".join(rows)), store)
    assert told == (
        "ABBREV.txt, line 1: Energ_Kcal is no number. So it is 30 times. "
        "Download it again and import that."
    )


def test_column_names_that_are_missing_are_all_named(tmp_path: Path, store: Path) -> None:
    told = refused(written(tmp_path, "abbrev.csv", "NDB_No,Water_(g)\n01001,5\n"), store)
    assert told.startswith("abbrev.csv, line 1: Columns are missing: Shrt_Desc, Energ_Kcal, ")
    assert "found “NDB_No,Water_(g)”" in told


def test_columns_of_the_comma_form_may_stand_in_any_order(tmp_path: Path, store: Path) -> None:
    lines = shared_file("sr28/abbrev.csv").read_text("utf-8").splitlines()[:50]
    text = io.StringIO()
    csv.writer(text).writerows([row[::-1] for row in csv.reader(lines)])
    imported(written(tmp_path / "a", "abbrev.csv", "\n".join(lines)), store)
    other = tmp_path / "b.sqlite"
    imported(written(tmp_path / "b", "abbrev.csv", text.getvalue()), other)
    keys = [f"ndb:{line[:5]}" for line in lines[1:]]
    with FoodStore.open(store) as first, FoodStore.open(other) as second:
        assert np.array_equal(first.table(keys).values, second.table(keys).values)
        assert first.table(keys).values[:, INDEX["energy_kcal"]].max() > 700

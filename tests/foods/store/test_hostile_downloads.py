"""Downloads that are broken or made to do harm: told clearly, in bounded time and memory."""

from __future__ import annotations

import os
import struct
import zipfile
import zlib
from pathlib import Path

import pytest

from reformulate.foods.store import FoodStore
from tests.foods.store.releases import (
    AMOUNT,
    abbreviated,
    amount,
    csv_folder,
    food,
    imported,
    json_food,
    names,
    refused,
    table,
    written,
    zipped,
)

MB = 2**20


@pytest.fixture
def store(tmp_path: Path) -> Path:
    return tmp_path / "store" / "foods.sqlite"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return csv_folder(tmp_path / "csv", [food(1)], [amount(1, 1008, 5)])


def test_what_is_not_there_is_told(tmp_path: Path, store: Path) -> None:
    assert "cannot be read (No such file or directory)" in refused(tmp_path / "gone", store)
    assert "cannot be read" in refused(tmp_path / "nul\0byte", store)


def test_a_folder_without_a_release_says_what_is_expected(tmp_path: Path, store: Path) -> None:
    written(tmp_path / "x", "holiday.txt", "sun\n")
    written(tmp_path / "x", "notes.txt", "sea\n")
    told = refused(tmp_path / "x", store)
    assert "found: holiday.txt, notes.txt" in told
    assert "ABBREV" in told
    assert "food_nutrient" in told
    assert not store.exists()


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no pipes here")
def test_a_pipe_is_not_waited_for(tmp_path: Path, folder: Path, store: Path) -> None:
    os.mkfifo(tmp_path / "pipe.csv")
    assert "neither a file nor a folder" in refused(tmp_path / "pipe.csv", store)
    os.mkfifo(folder / "nutrient.csv")
    imported(folder, store)


def test_a_name_that_stands_twice_could_mean_either(folder: Path, store: Path) -> None:
    written(folder / "a", "food_portion.csv", "fdc_id,gram_weight\n")
    written(folder / "b", "food_portion.csv", "fdc_id,gram_weight\n")
    told = refused(folder, store)
    assert "food_portion.csv stands twice: a" in told


def test_a_release_in_a_folder_within_is_found(folder: Path, store: Path) -> None:
    imported(folder.parent, store)
    assert names(store) == ["Dip, plain"]


def bomb(path: Path, name: str, megabytes: int) -> Path:
    with (
        zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive,
        archive.open(name, "w") as file,
    ):
        for _ in range(megabytes):
            file.write(b"0" * MB)
    return path


def test_an_archive_that_unpacks_to_far_more_than_it_is_long_is_refused(
    tmp_path: Path, store: Path
) -> None:
    told = refused(bomb(tmp_path / "bomb.zip", "food.csv", 50), store)
    assert "unpacks to 50 MB, as no release does" in told


def test_an_archive_that_lies_about_its_sizes_is_refused(tmp_path: Path, store: Path) -> None:
    path = bomb(tmp_path / "bomb.zip", "food.csv", 20)
    raw = bytearray(path.read_bytes())
    entry = raw.rindex(b"PK\1\2")
    raw[entry + 20 : entry + 24] = struct.pack("<L", 19 * MB)  # the packed size
    path.write_bytes(raw)
    assert "claims to hold more than it is long" in refused(path, store)
    raw = bytearray(bomb(path, "food.csv", 20).read_bytes())
    entry = raw.rindex(b"PK\1\2")
    raw[entry + 24 : entry + 28] = struct.pack("<L", MB)  # the unpacked size
    path.write_bytes(raw)
    refused(path, store)


@pytest.mark.parametrize(
    "name", ["../../food.csv", "/etc/food.csv", "C:/food.csv", "a\\..\\..\\b.csv"]
)
def test_a_name_that_leads_out_of_the_archive_is_refused(
    tmp_path: Path, folder: Path, store: Path, name: str
) -> None:
    files = {path.name: path.read_bytes() for path in folder.iterdir()}
    told = refused(zipped(tmp_path / "x.zip", files | {name: "fdc_id\n"}), store)
    assert "leads out of the archive" in told
    assert not (tmp_path.parent / "food.csv").exists()


def test_an_archive_with_an_endless_list_of_files_is_refused(tmp_path: Path, store: Path) -> None:
    path = tmp_path / "x.zip"
    with zipfile.ZipFile(path, "w") as archive:
        for number in range(20_000):
            archive.writestr(f"{number:0220}.txt", b"")
    assert "lists far more files than a release has" in refused(path, store)


def test_a_broken_off_archive_is_told(tmp_path: Path, folder: Path, store: Path) -> None:
    files = {path.name: path.read_bytes() for path in folder.iterdir()}
    path = zipped(tmp_path / "x.zip", files)
    raw = path.read_bytes()
    path.write_bytes(raw[: len(raw) // 2])
    assert "The archive is broken off or is no zip archive." in refused(path, store)


def test_a_damaged_archive_is_told(tmp_path: Path, folder: Path, store: Path) -> None:
    files = {path.name: path.read_bytes() for path in folder.iterdir()}
    raw = bytearray(zipped(tmp_path / "x.zip", files).read_bytes())
    at = raw.index(b"food.csv") + len("food.csv") + 20
    raw[at] ^= 0xFF
    told = refused(written(tmp_path, "y.zip", bytes(raw)), store)
    assert "damaged" in told
    assert not store.exists()


def test_an_archive_with_a_password_is_told(tmp_path: Path, folder: Path, store: Path) -> None:
    files = {path.name: path.read_bytes() for path in folder.iterdir()}
    raw = bytearray(zipped(tmp_path / "x.zip", files).read_bytes())
    at = -1
    while (at := raw.find(b"PK\1\2", at + 1)) >= 0:
        raw[at + 8] |= 1
    assert "locked with a password" in refused(written(tmp_path, "y.zip", bytes(raw)), store)


def test_an_archive_within_an_archive_is_not_opened(
    tmp_path: Path, folder: Path, store: Path
) -> None:
    files = {path.name: path.read_bytes() for path in folder.iterdir()}
    inner = zipped(tmp_path / "inner.zip", files).read_bytes()
    told = refused(zipped(tmp_path / "outer.zip", {"inner.zip": inner}), store)
    assert "No files of a food release" in told


@pytest.mark.parametrize("name", ["food.csv", "food_nutrient.csv"])
def test_a_line_of_fifty_megabytes_is_refused_after_the_first(
    folder: Path, store: Path, name: str
) -> None:
    with (folder / name).open("ab") as file:
        for _ in range(50):
            file.write(b"x" * MB)
    told = refused(folder, store)
    assert f"{name}, about line 3: A line is longer than 1 MB" in told


def test_a_long_line_of_the_ascii_form_is_refused(tmp_path: Path, store: Path) -> None:
    rows = abbreviated("01001", at3="1") + "~01002~^~" + "x" * (2 * MB) + "~\r\n"
    told = refused(written(tmp_path, "ABBREV.txt", rows), store)
    assert "A line is longer than 1 MB" in told


def test_a_quote_that_is_never_closed_is_refused(folder: Path, store: Path) -> None:
    path = folder / "food.csv"
    sound = path.read_text("utf-8")
    path.write_text(sound + '2,sr_legacy_food,"Dip\n' + "3,sr_legacy_food,Dip,,\n" * 9000, "utf-8")
    told = refused(folder, store)
    assert told.startswith("food.csv, line ")
    assert "field larger than field limit" in told
    path.write_text(sound + '2,sr_legacy_food,"Dip\n3,sr_legacy_food,Dip,,\n', "utf-8")
    assert "ends in the middle of a row: 3 fields of 5" in refused(folder, store)
    path.write_text(sound + '2,sr_legacy_food,Dip,,"broken off', "utf-8")
    assert "ends in the middle of a row" in refused(folder, store)


def test_a_quote_in_the_wrong_place_costs_its_own_rows_only(folder: Path, store: Path) -> None:
    path = folder / "food.csv"
    rows = "".join(f'"{i}","sr_legacy_food","Dip {i}","",""\n' for i in (3, 4))
    path.write_text(path.read_text("utf-8") + '"2","sr_legacy_food,"Dip\n' + rows, "utf-8")
    written(folder, "food_nutrient.csv", table(AMOUNT, [amount(i, 1008, 5) for i in (1, 2, 3, 4)]))
    done = imported(folder, store)
    assert names(store) == ["Dip 3", "Dip 4", "Dip, plain"]
    assert ("The row has not the 5 fields of its file.", ("food.csv, line 3",)) in [
        (each.what, each.places) for each in done.skipped
    ]


@pytest.mark.parametrize("name", ["food.csv", "food_nutrient.csv"])
def test_nul_bytes_and_two_byte_text_are_no_text(folder: Path, store: Path, name: str) -> None:
    path = folder / name
    sound = path.read_bytes()
    for raw in (sound + b"\0", sound.decode().encode("utf-16")):
        path.write_bytes(raw)
        assert f"{name}: Found bytes that are not text" in refused(folder, store)


def test_marks_that_turn_writing_around_and_controls_are_taken_out(
    tmp_path: Path, store: Path
) -> None:
    name = "Dip \u202egnol\u202c\x07 of\u200b beans"
    imported(csv_folder(tmp_path / "csv", [food(1, name)], [amount(1, 1008, 5)]), store)
    assert names(store) == ["Dip gnol of beans"]


def test_a_name_written_from_right_to_left_is_kept_and_found(tmp_path: Path, store: Path) -> None:
    imported(csv_folder(tmp_path / "csv", [food(1, "חומוס")], [amount(1, 1008, 5)]), store)
    with FoodStore.open(store) as opened:
        assert [hit.name for hit in opened.search("חומ")] == ["חומוס"]


def test_a_latin_file_is_read(folder: Path, store: Path) -> None:
    path = folder / "food.csv"
    path.write_bytes(path.read_text("utf-8").replace("plain", "crème").encode("latin-1"))
    done = imported(folder, store)
    assert names(store) == ["Dip, crème"]
    assert [file.latin_lines for file in done.sources[0].files] == [1, 0]


def test_a_food_with_an_endless_number_of_rows_is_one_food(tmp_path: Path, store: Path) -> None:
    amounts = [amount(1, 1008, 5)] * 20_000
    portions = [
        {"fdc_id": 1, "gram_weight": n, "amount": 1, "modifier": f"piece {n}"}
        for n in range(1, 20_000)
    ]
    folder = csv_folder(
        tmp_path / "csv",
        [food(1)],
        amounts,
        food_portion=table(("fdc_id", "gram_weight", "amount", "modifier"), portions),
    )
    assert imported(folder, store).foods == 1
    with FoodStore.open(store) as opened:
        assert len(opened.table(["fdc:1"]).foods[0].measures) == 40


@pytest.mark.parametrize("opening", ["[", '{"a":', '[{"a":'])
@pytest.mark.parametrize("where", ["whole", "food", "beside"])
def test_nesting_without_end_is_refused(
    tmp_path: Path, store: Path, opening: str, where: str
) -> None:
    nest = opening * (8 * MB // len(opening))
    text = {"whole": nest, "food": '{"Foods":[' + nest, "beside": '{"a":' + nest}[where]
    told = refused(written(tmp_path, "foods.json", text), store)
    assert "foods.json, at character" in told
    assert "nested far too deeply" in told


def test_a_text_without_end_is_refused(tmp_path: Path, store: Path) -> None:
    told = refused(written(tmp_path, "foods.json", '{"Foods":[{"a":"' + "x" * (50 * MB)), store)
    assert "A text is longer than 2 MB" in told


def test_a_food_without_end_is_refused(tmp_path: Path, store: Path) -> None:
    text = '{"Foods":[{"foodNutrients":[' + "{}," * (6 * MB)
    told = refused(written(tmp_path, "foods.json", text), store)
    assert "at character 11: A food is longer than 4 MB" in told


@pytest.mark.parametrize(
    "number", ["9" * 5000, "1" * (5 * MB), "1e999", "-1e999", "NaN", "0." + "3" * MB]
)
def test_numbers_without_end_do_no_harm(tmp_path: Path, store: Path, number: str) -> None:
    whole = f'{{"Foods":[{{"fdcId":1,"dataType":"Foundation","description":"Dip","x":{number}}}]}}'
    refused(written(tmp_path, "foods.json", whole), store)
    assert not store.exists()


def test_half_of_a_letter_in_json_is_taken_out(tmp_path: Path, store: Path) -> None:
    import json  # noqa: PLC0415

    food_ = json_food(
        1,
        "Dip \ud800 x",
        brandOwner="A\udfff",
        servingSize=3,
        servingSizeUnit="g",
        householdServingFullText="2 \ud800tbsp",
        brandedFoodCategory="\ud800",
    )
    odd = json_food(2) | {"\ud800": 1}
    done = imported(written(tmp_path, "foods.json", json.dumps({"Foods": [food_, odd]})), store)
    assert names(store) == ["Dip x (A)"]
    assert [each.what for each in done.skipped] == [
        "The food cannot be read: a name has half a letter."
    ]


def test_a_stream_of_zeros_is_refused_at_once(tmp_path: Path, store: Path) -> None:
    packed = zlib.compress(bytes(30 * MB))
    told = refused(written(tmp_path, "food.csv", packed), store)
    assert "food_nutrient.csv" in told or "not text" in told


def test_identities_beyond_eight_digits_cost_no_memory(tmp_path: Path, store: Path) -> None:
    foods = [food(1), food(99_999_999, "Last"), food(10**18, "Beyond")]
    amounts = [amount(each["fdc_id"], 1008, 5) for each in foods]
    done = imported(csv_folder(tmp_path / "csv", foods, amounts), store)
    assert names(store) == ["Dip, plain", "Last"]
    assert {each.what for each in done.skipped} == {
        "fdc_id is not up to eight digits.",
        "fdc_id or amount cannot be read.",
    }


def test_columns_of_the_amounts_may_be_missing_only_where_they_are_not_needed(
    tmp_path: Path, store: Path
) -> None:
    folder = csv_folder(tmp_path / "csv", [food(1)], [])
    written(
        folder,
        "food_nutrient.csv",
        table(AMOUNT[1:4], [{"fdc_id": 1, "nutrient_id": 1008, "amount": 3}]),
    )
    imported(folder, store)
    assert names(store) == ["Dip, plain"]

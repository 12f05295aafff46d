"""Writing own foods that is refused leaves the file as it was."""

from __future__ import annotations

import pytest

from reformulate.errors import BadInput, FileProblem
from reformulate.foods.own import OwnFood
from reformulate.sets import digest
from reformulate.sets.own_foods import OWN_FOODS_FILE, read_own_foods
from reformulate.sets.own_foods_writing import remove_own_food, write_own_food, write_own_foods
from tests.sets.own_foods.food_files import TEXT, content


def test_a_food_that_is_not_there_cannot_be_removed(folder):
    with pytest.raises(
        BadInput, match=r"no food with the key “own:gone”\. It has own:light-dip, own:base\."
    ):
        remove_own_food(folder, "own:gone")
    assert content(folder) == TEXT


def test_many_foods_are_saved_all_or_none(folder):
    good = OwnFood(key="own:good", name="Good")
    with pytest.raises(BadInput, match="own:bad"):
        write_own_foods(folder, [good, OwnFood(key="own:bad", name="")])
    assert content(folder) == TEXT
    write_own_foods(folder, [good, OwnFood(key="own:better", name="Better")])
    assert [food.key for food in read_own_foods(folder)] == [
        "own:light-dip",
        "own:base",
        "own:good",
        "own:better",
    ]


def test_a_change_by_another_program_is_not_written_over(folder):
    before = digest(folder / OWN_FOODS_FILE)
    (folder / OWN_FOODS_FILE).write_bytes(TEXT.replace("60", "70").encode())
    with pytest.raises(FileProblem, match="changed by another program"):
        write_own_food(folder, OwnFood(key="own:a", name="A"), before)
    (folder / OWN_FOODS_FILE).unlink()
    with pytest.raises(FileProblem, match="removed by another program"):
        remove_own_food(folder, "own:base", before)
    write_own_food(folder, OwnFood(key="own:a", name="A"), "")
    assert len(read_own_foods(folder)) == 1


def test_a_broken_file_is_never_written_over(folder):
    broken = TEXT.replace('name = "Onion base"', "name = 3")
    (folder / OWN_FOODS_FILE).write_bytes(broken.encode())
    for change in (
        lambda: write_own_food(folder, OwnFood(key="own:a", name="A")),
        lambda: remove_own_food(folder, "own:base"),
    ):
        with pytest.raises(BadInput, match=r"food 2 \(own:base\), name: found the number 3"):
            change()
        assert content(folder) == broken


def test_a_full_disk_leaves_the_file_as_it_was(folder, monkeypatch):
    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(FileProblem, match="disk is full"):
        write_own_food(folder, OwnFood(key="own:a", name="A"))
    assert content(folder) == TEXT
    assert [entry.name for entry in folder.iterdir()] == [OWN_FOODS_FILE]


def test_more_than_can_be_read_again_is_not_written(folder):
    many = [OwnFood(key=f"own:f{n}", name="F", note="x" * 9000) for n in range(120)]
    with pytest.raises(FileProblem, match="would be larger than 1 MB"):
        write_own_foods(folder, many)
    assert content(folder) == TEXT

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.errors import BadInput, FileProblem
from reformulate.sets import read_set, working_copy
from reformulate.sets.remembered import remember_matches

SET = """# Our winter party.
format = 1
title = "Winter"  # the one in the barn
measures = "uk"
colour = "blue"

# What things cost.
[[price]]
food = "almonds-roasted"
price = 16
amount = "1 kg"

# Ours is always the thick one.
[[match]]
words = "yogurt"
food = "yogurt-whole"  # full fat
since = 2021

[guests]
count = 30
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "set.toml").write_text(SET, encoding="utf-8")
    return tmp_path


def test_a_new_choice_is_added_and_all_else_stays(folder: Path) -> None:
    remember_matches(folder, {"soft cheese": "goat-cheese-soft"})
    text = (folder / "set.toml").read_text(encoding="utf-8")
    for row in SET.splitlines():
        assert row in text.splitlines()
    assert dict(read_set(folder).matches) == {
        "yogurt": "yogurt-whole",
        "soft cheese": "goat-cheese-soft",
    }
    assert tomllib.loads(text)["guests"] == {"count": 30}


def test_another_food_for_known_words_takes_the_old_ones_place(folder: Path) -> None:
    remember_matches(folder, {"yogurt": "yogurt-strained-nonfat"})
    text = (folder / "set.toml").read_text(encoding="utf-8")
    assert text.count("[[match]]") == 1
    assert "since = 2021" in text
    assert "# Ours is always the thick one." in text
    assert text == SET.replace("yogurt-whole", "yogurt-strained-nonfat")


def test_what_is_known_already_leaves_the_file_alone(folder: Path) -> None:
    before = (folder / "set.toml").stat()
    remember_matches(folder, {"yogurt": "yogurt-whole"})
    remember_matches(folder, {})
    after = (folder / "set.toml").stat()
    assert (before.st_mtime_ns, before.st_ino) == (after.st_mtime_ns, after.st_ino)


def test_a_set_file_is_made_where_there_is_none(tmp_path: Path) -> None:
    folder = tmp_path / "New year's"
    folder.mkdir()
    remember_matches(folder, {"soft cheese": "goat-cheese-soft"})
    opened = read_set(folder)
    assert opened.title == "New year's"
    assert opened.measures == "us"
    assert opened.matches == (("soft cheese", "goat-cheese-soft"),)
    assert opened.broken == ()


def test_the_demo_set_remembers_and_still_reads_the_same(tmp_path: Path) -> None:
    folder = working_copy(tmp_path / "demo")
    before = read_set(folder)
    remember_matches(folder, {"soft cheese": "cream-cheese", "herbs": "parsley"})
    after = read_set(folder)
    assert after.matches == (("soft cheese", "cream-cheese"), ("herbs", "parsley"))
    assert (after.prices, after.exchanges, after.documents) == (
        before.prices,
        before.exchanges,
        before.documents,
    )
    text = (folder / "set.toml").read_text(encoding="utf-8")
    assert "# A page of our own swap book, invented for this demo." in text


def test_choices_within_one_row_get_rows_of_their_own(tmp_path: Path) -> None:
    text = 'format = 1\ntitle = "T"\nmatch = [{words = "a", food = "hummus", why = "so"}]\n'
    (tmp_path / "set.toml").write_text(text, encoding="utf-8")
    remember_matches(tmp_path, {"b": "feta"})
    found = tomllib.loads((tmp_path / "set.toml").read_text(encoding="utf-8"))["match"]
    assert found == [
        {"words": "a", "food": "hummus", "why": "so"},
        {"words": "b", "food": "feta"},
    ]


def test_words_that_stand_twice_mean_the_new_food_in_both_places(tmp_path: Path) -> None:
    twice = '[[match]]\nwords = "a"\nfood = "hummus"\n'
    text = f'format = 1\ntitle = "T"\n\n{twice}\n{twice.replace("hummus", "feta")}'
    (tmp_path / "set.toml").write_text(text, encoding="utf-8")
    remember_matches(tmp_path, {"a": "dill"})
    assert dict(read_set(tmp_path).matches) == {"a": "dill"}


def test_line_ends_and_marks_of_other_editors_stay(tmp_path: Path) -> None:
    path = tmp_path / "set.toml"
    path.write_bytes(b"\xef\xbb\xbf" + SET.replace("\n", "\r\n").encode())
    remember_matches(tmp_path, {"b": "feta"})
    data = path.read_bytes()
    assert data.startswith(b"\xef\xbb\xbf")
    assert b"\r\n" in data
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert dict(read_set(tmp_path).matches)["b"] == "feta"


@pytest.mark.parametrize(
    "text",
    [
        "",
        "format = 1\ntitle = ",
        'format = 1\ntitle = "T"\nmatch = 3\n',
        'format = 99\ntitle = "T"\n',
        'format = 1\ntitle = "T"\n[[match]]\nwords = "a"\n',
    ],
)
def test_a_broken_set_file_is_not_touched(tmp_path: Path, text: str) -> None:
    path = tmp_path / "set.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput):
        remember_matches(tmp_path, {"b": "feta"})
    assert path.read_text(encoding="utf-8") == text


def test_nothing_is_remembered_without_words_or_food(folder: Path) -> None:
    for foods in ({"": "feta"}, {"cheese": " "}):
        with pytest.raises(BadInput):
            remember_matches(folder, foods)
    assert (folder / "set.toml").read_text(encoding="utf-8") == SET


def test_a_folder_that_is_gone_is_told(tmp_path: Path) -> None:
    with pytest.raises(FileProblem):
        remember_matches(tmp_path / "nowhere", {"a": "feta"})
    assert not (tmp_path / "nowhere").exists()


NAMES = st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1).filter(str.strip)


@given(st.lists(st.dictionaries(NAMES, NAMES, max_size=3), max_size=3))
def test_whatever_is_remembered_is_found_again(
    tmp_path_factory: pytest.TempPathFactory, choices: list[dict[str, str]]
) -> None:
    folder = tmp_path_factory.mktemp("set")
    (folder / "set.toml").write_text(SET, encoding="utf-8")
    expected = {"yogurt": "yogurt-whole"}
    for foods in choices:
        remember_matches(folder, foods)
        expected |= foods
        assert dict(read_set(folder).matches) == expected

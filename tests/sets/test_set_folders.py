"""Folders: which files make a set, and what is told of those that cannot be read."""

import pytest

from reformulate.errors import BadInput, FileProblem
from reformulate.sets import measures_of, read_set
from tests.sets.set_documents import DIP


def test_a_set_lists_named_recipes_first_and_the_others_by_name(tmp_path):
    for name in ("a.toml", "B.toml", "c.toml", ".c.draft.toml", "notes.txt"):
        (tmp_path / name).write_text(DIP)
    (tmp_path / "set.toml").write_text(
        'format = 1\ntitle = "Evening"\nnote = "n"\nmeasures = "metric"\nrecipes = ["c.toml"]\n'
    )
    found = read_set(tmp_path)
    assert (found.title, found.note, found.measures) == ("Evening", "n", "metric")
    assert [document.path.name for document in found.documents] == ["c.toml", "a.toml", "B.toml"]
    assert found.broken == ()
    assert measures_of(tmp_path / "a.toml") == "metric"


def test_one_broken_file_does_not_hide_the_others(tmp_path):
    (tmp_path / "good.toml").write_text(DIP)
    (tmp_path / "bad.toml").write_text("format = ")
    (tmp_path / "set.toml").write_text('format = 1\ntitle = "x"\nrecipes = ["gone.toml"]\n')
    found = read_set(tmp_path)
    assert [document.path.name for document in found.documents] == ["good.toml"]
    assert [file.path.name for file in found.broken] == ["gone.toml", "bad.toml"]
    assert "there is no such file" in str(found.broken[0].problems[0])
    assert "this is not TOML" in str(found.broken[1].problems[0])


def test_a_broken_set_file_still_shows_the_recipes_and_says_which_cups_count(tmp_path):
    (tmp_path / "good.toml").write_text(DIP)
    (tmp_path / "set.toml").write_text(
        'format = 1\ntitle = "x"\nmeasures = "metrik"\n'
        'recipes = ["../x.toml", "a.toml", "a.toml"]\n'
    )
    found = read_set(tmp_path)
    assert found.measures == "us"
    assert [document.path.name for document in found.documents] == ["good.toml"]
    (broken,) = found.broken
    assert [str(problem) for problem in broken.problems] == [
        "set.toml, measures 'metrik': There is no such system of measures. "
        "Did you mean 'metric'? Choose one of: us, metric, label, uk, australian.",
        "set.toml, recipes 1: found '../x.toml', expected the name of a recipe file in this "
        "folder. Write the bare name, as in 'onion-dip.toml'.",
        "set.toml, recipes 3: names 'a.toml' a second time. Name it once.",
        "set.toml: until it is put right, the set is read with the measures 'us'. "
        "Check the amounts in cups and spoons.",
    ]
    with pytest.raises(BadInput, match="no such system"):
        measures_of(tmp_path / "good.toml")


def test_a_folder_of_recipes_without_a_set_file_is_a_set_in_us_measures(tmp_path):
    (tmp_path / "a.toml").write_text(DIP)
    found = read_set(tmp_path)
    assert (found.title, found.measures, len(found.documents)) == (tmp_path.name, "us", 1)
    assert measures_of(tmp_path / "a.toml") == "us"


def test_a_folder_with_nothing_of_a_set_and_a_missing_one_are_told(tmp_path):
    with pytest.raises(FileProblem, match=r"holds no set\.toml and no recipe file"):
        read_set(tmp_path)
    with pytest.raises(FileProblem, match="cannot be opened: No such file or directory"):
        read_set(tmp_path / "none")

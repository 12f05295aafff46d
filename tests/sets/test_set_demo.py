"""The demo set is found wherever the program lies, and copied once."""

import pytest

from reformulate.errors import FileProblem
from reformulate.sets import demo_source, read_set, working_copy

DIP = 'format = 1\ntitle = "Dip"\nservings = 8\n[[line]]\nfood = "garlic"\ngrams = 3\n'


@pytest.fixture(params=["checkout", "installed"])
def source(request, tmp_path, monkeypatch):
    """Return the demo folder of a program laid out as in a checkout or as installed."""
    package = tmp_path / "root" / "reformulate"
    base = package.parent if request.param == "checkout" else package
    folder = base / "sample_sets" / "harvest-evening"
    folder.mkdir(parents=True)
    (folder / "set.toml").write_text('format = 1\ntitle = "Demo"\n')
    (folder / "dip.toml").write_text(DIP)
    (folder / ".dip.draft.toml").write_text("x")
    monkeypatch.setattr("reformulate.sets.demo.PACKAGE", package)
    return folder


def test_the_demo_is_found_in_a_checkout_and_in_an_installation(source):
    assert demo_source() == source


def test_the_copy_is_a_set_of_the_users_own(source, tmp_path):
    target = tmp_path / "mine" / "demo"
    assert working_copy(target) == target
    assert sorted(file.name for file in target.iterdir()) == ["dip.toml", "set.toml"]
    assert read_set(target).documents[0].recipe.title == "Dip"


def test_a_second_copy_brings_nothing_back_and_writes_nothing_over(source, tmp_path):
    target = working_copy(tmp_path / "mine")
    (target / "dip.toml").unlink()
    (target / "set.toml").write_text("mine")
    working_copy(target)
    assert [file.name for file in target.iterdir()] == ["set.toml"]
    assert (target / "set.toml").read_text() == "mine"


def test_a_copy_cut_short_is_completed_around_what_is_there(source, tmp_path):
    target = tmp_path / "mine"
    target.mkdir()
    (target / "dip.toml").write_text("mine")
    working_copy(target)
    assert (target / "dip.toml").read_text() == "mine"
    assert (target / "set.toml").exists()


def test_a_target_that_is_a_file_is_told(source, tmp_path):
    (tmp_path / "mine").write_text("")
    with pytest.raises(FileProblem, match="could not be written"):
        working_copy(tmp_path / "mine")


def test_a_missing_demo_is_told(source, tmp_path):
    (source / "set.toml").unlink()
    with pytest.raises(FileProblem, match="demo set is missing from this installation"):
        working_copy(tmp_path / "mine")

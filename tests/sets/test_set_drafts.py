"""Unsaved work survives, and never stands in the way."""

import errno
import os
from dataclasses import replace

import pytest

from reformulate.errors import BadInput, FileProblem
from reformulate.recipes.taking_in import document_name
from reformulate.sets import (
    draft_is_newer,
    drop_draft,
    read_document,
    read_draft,
    read_set,
    taken_names,
    write_document,
    write_draft,
)

DIP = 'format = 1\ntitle = "Dip"\nservings = 8\n\n[[line]]\nfood = "garlic"\ngrams = 3 # g\n'


@pytest.fixture
def dip(tmp_path):
    path = tmp_path / "dip.toml"
    path.write_text(DIP)
    return read_document(path)


def changed(document):
    return replace(document, recipe=replace(document.recipe, servings=9.0))


def test_a_draft_comes_back_as_it_was_and_leaves_the_file_alone(dip):
    write_draft(changed(dip))
    assert read_draft(dip.path) == changed(dip)
    assert dip.path.read_text() == DIP
    assert dip.path.with_name(".dip.draft.toml").exists()


def test_a_draft_is_no_recipe_of_the_set(dip):
    write_draft(changed(dip))
    found = read_set(dip.path.parent)
    assert (len(found.documents), found.broken) == (1, ())


def test_a_dropped_draft_is_gone_and_may_be_dropped_again(dip):
    write_draft(dip)
    drop_draft(dip.path)
    drop_draft(dip.path)
    assert read_draft(dip.path) is None
    assert list(dip.path.parent.iterdir()) == [dip.path]


def test_a_new_recipe_never_takes_the_name_of_unsaved_work(dip):
    write_draft(changed(dip))
    dip.path.unlink()
    names = taken_names(dip.path.parent)
    assert document_name("Dip", names) == "dip-2.toml"
    assert taken_names(dip.path.parent / "gone") == set()


def test_a_saved_draft_keeps_the_comments_of_the_file(dip):
    write_draft(changed(dip))
    write_document(read_draft(dip.path))
    assert "grams = 3 # g" in dip.path.read_text()
    assert read_document(dip.path).recipe.servings == 9.0


def test_a_broken_draft_is_set_aside_whole_each_time(dip):
    draft = dip.path.with_name(".dip.draft.toml")
    for text in ("format = ", "format = 1"):
        draft.write_text(text)
        assert read_draft(dip.path) is None
        assert not draft.exists()
    aside = [dip.path.with_name(f".dip.broken-draft-{n}.toml").read_text() for n in (1, 2)]
    assert aside == ["format = ", "format = 1"]


def test_a_draft_that_cannot_be_set_aside_raises_nothing(dip, monkeypatch):
    dip.path.with_name(".dip.draft.toml").write_text("format = ")

    def refuse(*args, **kwargs):
        raise PermissionError(errno.EACCES, "denied")

    monkeypatch.setattr(os, "replace", refuse)
    monkeypatch.setattr(os, "rename", refuse)
    assert read_draft(dip.path) is None


def test_a_draft_is_newer_until_the_file_is_written_after_it(dip):
    assert not draft_is_newer(dip.path)
    write_draft(dip)
    draft = dip.path.with_name(".dip.draft.toml")
    os.utime(dip.path, ns=(10**18, 10**18))
    for when, newer in ((10**18 - 1000, False), (10**18, True), (10**18 + 1000, True)):
        os.utime(draft, ns=(when, when))
        assert draft_is_newer(dip.path) is newer
    dip.path.unlink()
    assert draft_is_newer(dip.path)


def test_a_draft_that_cannot_be_written_leaves_the_last_one(dip, monkeypatch):
    write_draft(dip)

    def full(*args, **kwargs):
        raise OSError(errno.ENOSPC, "full")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FileProblem, match="the disk is full"):
        write_draft(changed(dip))
    assert read_draft(dip.path) == dip


def test_a_draft_with_a_fault_is_refused_rather_than_lost_later(dip):
    with pytest.raises(BadInput, match="servings: found 0"):
        write_draft(replace(dip, recipe=replace(dip.recipe, servings=0.0)))

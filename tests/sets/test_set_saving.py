"""Saving when something is in the way: the old file stays, and the user is told."""

import errno
import os
import stat
from dataclasses import replace
from pathlib import Path

import pytest

from reformulate.errors import BadInput, FileProblem
from reformulate.sets import digest, read_document, write_document
from tests.sets.set_documents import DIP


@pytest.fixture
def dip(tmp_path):
    path = tmp_path / "dip.toml"
    path.write_bytes(DIP.encode())
    return read_document(path)


def with_line(document, line_id, **changes):
    recipe = document.recipe
    line = replace(recipe.line(line_id), **changes)
    return replace(document, recipe=recipe.with_line(line))


def test_a_document_with_a_fault_is_not_written(dip):
    faulty = replace(dip, recipe=replace(dip.recipe, servings=0.0))
    with pytest.raises(BadInput, match=r"dip\.toml, servings: found 0"):
        write_document(faulty)
    assert dip.path.read_bytes() == DIP.encode()


def test_a_file_that_is_no_longer_toml_is_not_written_over(dip):
    dip.path.write_text("format = 1\ntitle = ")
    with pytest.raises(FileProblem, match=r"dip\.toml, at its end: this is not TOML"):
        write_document(dip)
    assert dip.path.read_text() == "format = 1\ntitle = "


def test_a_text_that_no_file_can_hold_is_refused_in_words(dip):
    odd = replace(dip, recipe=replace(dip.recipe, title="\ud800"))
    with pytest.raises(FileProblem, match="unusual characters"):
        write_document(odd)
    assert dip.path.read_bytes() == DIP.encode()


@pytest.mark.parametrize("call", ["replace", "fsync"])
@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "the disk is full. Nothing was changed. Free some space and save again"),
        (errno.EROFS, "this disk may only be read. Nothing was changed. Save a copy"),
        (errno.EIO, "Input/output error. Nothing was changed. Save a copy elsewhere"),
    ],
)
def test_a_write_that_fails_leaves_the_old_file_byte_for_byte(
    dip, monkeypatch, call, number, words
):
    def fail(*args, **kwargs):
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, call, fail)
    with pytest.raises(FileProblem) as caught:
        write_document(with_line(dip, "onion-yellow", grams=1.0))
    monkeypatch.undo()
    assert words in str(caught.value)
    assert str(dip.path) in str(caught.value)
    assert dip.path.read_bytes() == DIP.encode()
    assert list(dip.path.parent.iterdir()) == [dip.path]


def test_a_folder_that_may_not_be_written_to_is_said(dip, monkeypatch):
    real = Path.open

    def refuse(path, mode="r", **kwargs):
        if "x" in mode:
            raise PermissionError(errno.EACCES, "denied")
        return real(path, mode, **kwargs)

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(FileProblem, match=r"writing there is not allowed\. Nothing was"):
        write_document(with_line(dip, "onion-yellow", grams=1.0))


def test_a_folder_that_is_gone_is_said(dip):
    lost = replace(dip, path=dip.path.parent / "gone" / "dip.toml")
    with pytest.raises(FileProblem, match="the folder is gone"):
        write_document(lost)


def test_a_folder_that_cannot_be_forced_to_the_disk_is_no_failure(dip, monkeypatch):
    real = os.fsync

    def only_files(handle):
        if stat.S_ISDIR(os.fstat(handle).st_mode):
            raise OSError(errno.EINVAL, "not here")
        real(handle)

    monkeypatch.setattr(os, "fsync", only_files)
    write_document(with_line(dip, "onion-yellow", grams=1.0))
    assert read_document(dip.path).recipe.line("onion-yellow").grams == 1.0


def test_a_change_by_another_program_is_not_written_over(dip):
    mark = digest(dip.path)
    dip.path.write_text(DIP + "# by hand\n")
    with pytest.raises(FileProblem, match="changed by another program since it was opened"):
        write_document(with_line(dip, "onion-yellow", grams=1.0), mark)
    assert dip.path.read_text() == DIP + "# by hand\n"
    write_document(with_line(dip, "onion-yellow", grams=1.0), digest(dip.path))
    assert read_document(dip.path).recipe.line("onion-yellow").grams == 1.0


def test_a_file_that_has_gone_or_come_since_is_not_written_over(dip):
    mark = digest(dip.path)
    dip.path.unlink()
    with pytest.raises(FileProblem, match="removed by another program"):
        write_document(dip, mark)
    assert digest(dip.path) == ""
    write_document(dip, "")
    with pytest.raises(FileProblem, match="changed by another program"):
        write_document(dip, "")


@pytest.mark.skipif(os.name == "nt", reason="rights and links of POSIX")
def test_rights_and_links_are_kept(dip):
    dip.path.chmod(0o640)
    link = dip.path.with_name("link.toml")
    link.symlink_to(dip.path)
    write_document(replace(with_line(dip, "onion-yellow", grams=1.0), path=link))
    assert link.is_symlink()
    assert stat.S_IMODE(dip.path.stat().st_mode) == 0o640
    assert read_document(dip.path).recipe.line("onion-yellow").grams == 1.0

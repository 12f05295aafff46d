"""Unsaved work, kept beside the recipe until it is saved or dropped."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from reformulate.errors import BadInput
from reformulate.sets.atomic import write_atomically, write_problem
from reformulate.sets.documents import Document
from reformulate.sets.reading import document_problems, read_document
from reformulate.sets.writing import render


def draft_path(path: Path) -> Path:
    """Return where the draft of a recipe file is kept: hidden, in the same folder."""
    path = Path(path)
    return path.with_name(f".{path.stem}.draft.toml")


def write_draft(document: Document) -> None:
    """Keep a document beside its file, whole or not at all; the file itself is not touched.

    Raises
    ------
    BadInput
        If the document has something that must be put right first.
    FileProblem
        If the draft cannot be written.
    """
    problems = list(document_problems(document))
    if problems:
        raise BadInput(problems)
    write_atomically(draft_path(document.path), render(document))


def read_draft(path: Path) -> Document | None:
    """Return the unsaved work on a recipe file, or None where there is none.

    A draft that cannot be read is set aside under another name, so that it neither stands in the
    way nor is lost.
    """
    path = Path(path)
    draft = draft_path(path)
    try:
        if not draft.exists():
            return None
        return replace(read_document(draft), path=path)
    except BadInput:
        _set_aside(draft)
    except (OSError, ValueError):
        pass  # A folder that cannot be looked into has no draft for us.
    return None


def drop_draft(path: Path) -> None:
    """Remove the draft of a recipe file, if there is one; FileProblem where that fails."""
    draft = draft_path(path)
    try:
        draft.unlink(missing_ok=True)
    except OSError as error:
        raise write_problem(draft, error) from None


def draft_is_newer(path: Path) -> bool:
    """Whether a recipe file has a draft that is not older than the file itself."""
    path = Path(path)
    try:
        kept = draft_path(path).stat().st_mtime_ns
    except (OSError, ValueError):
        return False
    try:
        # Clocks of file systems are coarse; on a tie nothing may be lost.
        return kept >= path.stat().st_mtime_ns
    except OSError:
        return True


def _set_aside(draft: Path) -> None:
    stem = draft.name.removesuffix(".draft.toml")
    with suppress(OSError):
        number = 1
        while (aside := draft.with_name(f"{stem}.broken-draft-{number}.toml")).exists():
            number += 1
        draft.replace(aside)

"""Saving a document into its file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from reformulate.errors import BadInput, FileProblem, Problem
from reformulate.sets.atomic import write_atomically
from reformulate.sets.documents import Document
from reformulate.sets.editing import edited
from reformulate.sets.reading import document_from, document_problems
from reformulate.sets.rewriting import FileText, digest_of, existing, refuse_changed
from reformulate.sets.unknown import keeps_unknown


def digest(path: Path) -> str:
    """Return a mark of what a file holds, to see later whether another program changed it.

    It is "" where there is no such file. Raises FileProblem where it cannot be read.
    """
    return digest_of(existing(Path(path)))


def write_document(document: Document, expected_digest: str | None = None) -> None:
    """Save a document into its file, whole or not at all.

    In a file that is there already only what has changed is written anew: comments, order and
    keys that are not ours stay. Values that are the default may be left out.

    Parameters
    ----------
    document
        What the file is to say.
    expected_digest
        The ``digest`` of the file when it was last read or written ("" for a file that was not
        there); None to write whatever is there now.

    Raises
    ------
    BadInput
        If the document has something that must be put right first.
    FileProblem
        If the file has been changed by another program, or cannot be written. The file on disk
        is then as it was.
    """
    path = document.path
    problems = list(document_problems(document))
    if problems:
        raise BadInput(problems)
    data = existing(path)
    refuse_changed(path, data, expected_digest, "Open it again, or save a copy under another name.")
    new = render(document, data)
    if new != data:
        write_atomically(path, new)


def render(document: Document, data: bytes | None = None) -> bytes:
    """Return the bytes of a document's file, given those that are there now.

    Raises
    ------
    FileProblem
        If the file there is not TOML, or the document does not come back the same.
    """
    file = FileText.of(data, document.path.name)
    if data is not None and _says(file.says, document):
        return data
    new = file.rewritten(
        lambda rows: edited(rows, document),
        lambda after: _says(after, document) and keeps_unknown(file.says, after),
    )
    if new is not None:
        return new
    raise FileProblem(
        Problem(
            str(document.path),
            "could not be written so that it reads the same again. Nothing was changed.",
            "Save it under another name; look for unusual characters in its texts.",
        )
    )


def _says(data: dict[str, Any], document: Document) -> bool:
    """Whether a file's data says what the document says, the brief in so many words."""
    try:
        return "brief" in data and document_from(data, document.path) == document
    except BadInput:
        return False

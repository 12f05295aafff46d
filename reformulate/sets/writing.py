"""Saving a document into its file."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from reformulate.errors import BadInput, FileProblem, Problem
from reformulate.sets.atomic import write_atomically
from reformulate.sets.comments import all_comments
from reformulate.sets.documents import Document
from reformulate.sets.editing import edited
from reformulate.sets.loading import decode, load_bytes, parse
from reformulate.sets.reading import document_from, document_problems
from reformulate.sets.unknown import keeps_unknown

MARK = b"\xef\xbb\xbf"
"""The byte order mark some editors put before UTF-8 text; kept where it was."""


def digest(path: Path) -> str:
    """Return a mark of what a file holds, to see later whether another program changed it.

    It is "" where there is no such file. Raises FileProblem where it cannot be read.
    """
    data = _existing(Path(path))
    return "" if data is None else hashlib.sha256(data).hexdigest()


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
    data = _existing(path)
    if expected_digest is not None:
        found = "" if data is None else hashlib.sha256(data).hexdigest()
        if found != expected_digest:
            raise FileProblem(
                Problem(
                    str(path),
                    "has been removed by another program since it was opened."
                    if data is None
                    else "has been changed by another program since it was opened.",
                    "Open it again, or save a copy under another name.",
                )
            )
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
    text = "" if data is None or not data.strip() else decode(data, document.path.name)
    rows = text.replace("\r\n", "\n")
    before = parse(rows, document.path.name) if rows else {}
    if data is not None and _says(before, document):
        return data
    for plain in (False, True):
        try:
            new = edited(_plain_layout(before, rows) if plain else rows, document)
            if "\r\n" in text:
                new = new.replace("\n", "\r\n")
            encoded = (MARK if data is not None and data.startswith(MARK) else b"") + new.encode()
        except (TOMLKitError, ValueError, LookupError, TypeError, AttributeError, RuntimeError):
            # A layout the editor of the text cannot follow: the second turn sets it out plainly.
            continue
        if _keeps(new, before, document):
            return encoded
    raise FileProblem(
        Problem(
            str(document.path),
            "could not be written so that it reads the same again. Nothing was changed.",
            "Save it under another name; look for unusual characters in its texts.",
        )
    )


def _keeps(text: str, before: dict[str, Any], document: Document) -> bool:
    """Whether a text says what the document says, and all that is not ours besides."""
    try:
        after = parse(text, document.path.name)
    except BadInput:
        return False
    return _says(after, document) and keeps_unknown(before, after)


def _says(data: dict[str, Any], document: Document) -> bool:
    """Whether a file's data says what the document says, the brief in so many words."""
    try:
        return "brief" in data and document_from(data, document.path) == document
    except BadInput:
        return False


def _plain_layout(data: dict[str, Any], text: str) -> str:
    """Return TOML data in the plainest layout: its text's comments, then values, then tables."""
    comments = "".join(f"{comment}\n" for comment in all_comments(tomlkit.parse(text)))
    return comments + tomlkit.dumps(dict(sorted(data.items(), key=lambda kv: _is_table(kv[1]))))


def _is_table(value: object) -> bool:
    return isinstance(value, dict) or (
        isinstance(value, list) and bool(value) and all(isinstance(v, dict) for v in value)
    )


def _existing(path: Path) -> bytes | None:
    """Return what a file holds, None where there is none."""
    try:
        if not path.exists():
            return None
    except (OSError, ValueError):
        pass  # Reading says what is wrong with the path.
    return load_bytes(path)

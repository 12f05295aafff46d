"""From a file's bytes to TOML data; every way that can fail has its sentence."""

from __future__ import annotations

import re
import stat
import tomllib
from pathlib import Path
from typing import Any, Final

from reformulate.errors import FileProblem, Problem

LARGEST_FILE: Final = 1_000_000
"""Most bytes a file of a set may have [byte]; a long recipe has some ten thousand."""

MOST_DOTS: Final = 1000
"""Most dots in one row of text; a key of many thousand parts would fill the memory."""

DEEPEST: Final = 30
"""Most levels of lists and tables in each other; a recipe has four."""

_PLACE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")


def load_bytes(path: Path) -> bytes:
    """Return what a file holds.

    Raises
    ------
    FileProblem
        If there is no such file, it may not be read, is not a file, or is too large.
    """
    try:
        # A pipe or a device would keep the reader waiting for ever.
        if not stat.S_ISREG(path.stat().st_mode):
            raise FileProblem(Problem(str(path), "is not a file.", "Choose a recipe file."))
        with path.open("rb") as file:
            data = file.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise FileProblem(
            Problem(str(path), "there is no such file.", "It may have been moved or renamed.")
        ) from None
    except PermissionError:
        raise FileProblem(
            Problem(str(path), "may not be read.", "Ask for leave to read it, or copy it.")
        ) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise FileProblem(
            Problem(str(path), f"cannot be read: {reason}.", "Check the folder and the disk.")
        ) from None
    if len(data) > LARGEST_FILE:
        raise FileProblem(
            Problem(
                path.name,
                f"is larger than {LARGEST_FILE:_} bytes.".replace("_", " "),
                "Is it a recipe file? Shorten it.",
            )
        )
    return data


def decode(data: bytes, name: str) -> str:
    """Return the text of UTF-8 bytes, without a byte order mark.

    Raises
    ------
    FileProblem
        If the bytes are not UTF-8 text or there are none; says where.
    """
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise FileProblem(Problem(name, "found UTF-16, expected UTF-8.", "Save it as UTF-8 text."))
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        # The codec counts from behind the mark it has skipped.
        body = data.removeprefix(b"\xef\xbb\xbf")
        before = body[: error.start]
        row = before.count(b"\n") + 1
        column = len(before.rpartition(b"\n")[2].decode("utf-8", "replace")) + 1
        raise FileProblem(
            Problem(
                f"{name}, row {row}, column {column}",
                f"found the byte 0x{body[error.start]:02X}, expected UTF-8 text.",
                "Save the file as UTF-8 text.",
            )
        ) from None
    if not text.strip():
        raise FileProblem(
            Problem(name, "is empty.", "Take it from a copy, or remove it from the folder.")
        )
    return text


def parse(text: str, name: str) -> dict[str, Any]:
    """Return the TOML data of a text.

    Raises
    ------
    FileProblem
        If the text is not TOML; names the row and column.
    """
    for number, row in enumerate(text.split("\n"), start=1):
        if row.count(".") > MOST_DOTS:
            raise FileProblem(
                Problem(
                    f"{name}, row {number}",
                    f"found more than {MOST_DOTS} dots in one row.",
                    "Break the row in several.",
                )
            )
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise FileProblem(_syntax_problem(str(error), name)) from None
    except RecursionError:
        raise FileProblem(_depth_problem(name)) from None
    except ValueError as error:
        # Numbers of thousands of digits, dates that do not exist.
        raise FileProblem(
            Problem(name, f"has a value that cannot be read: {error}.", "Put the value right.")
        ) from None
    if _deeper(data, DEEPEST):
        # What could be read here could not be written again.
        raise FileProblem(_depth_problem(name))
    return data


def load(path: Path) -> dict[str, Any]:
    """Return the TOML data of a file; FileProblem where it cannot be had."""
    return parse(decode(load_bytes(path), path.name), path.name)


def _deeper(data: object, levels: int) -> bool:
    """Whether lists and tables lie in each other more than so many levels deep."""
    inner = [data]
    for _ in range(levels + 1):
        inner = [
            part
            for whole in inner
            if isinstance(whole, dict | list)
            for part in (whole.values() if isinstance(whole, dict) else whole)
        ]
    return any(isinstance(part, dict | list) for part in inner)


def _depth_problem(name: str) -> Problem:
    return Problem(name, "has lists or tables nested too deeply.", "Take the inner ones out.")


def _syntax_problem(message: str, name: str) -> Problem:
    found = _PLACE.search(message)
    reason = _PLACE.sub("", message)
    reason = reason[:1].lower() + reason[1:]
    if found is None or found[1] is None:
        return Problem(
            f"{name}, at its end",
            f"this is not TOML: {reason}.",
            "The file may be cut short: complete it, or take it from a copy.",
        )
    return Problem(
        f"{name}, row {found[1]}, column {found[2]}",
        f"this is not TOML: {reason}.",
        "Put the row right in a text editor.",
    )

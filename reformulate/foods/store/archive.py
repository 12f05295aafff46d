"""Zip archives, looked at before anything in them is unpacked."""

from __future__ import annotations

import struct
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from reformulate.errors import BadInput, FileProblem, Problem

_MOST_DIRECTORY = 4 * 2**20  # bytes; a release lists some thirty files in 4 kB
_MOST_UNPACKED = 32 * 2**30  # bytes; the largest release unpacks to a tenth of that
_RATIO = 200  # unpacked to packed; tables of figures pack 5 to 40 times, a bomb 1000 times
_SMALL = 2**20  # bytes that a file may unpack to, however well it packs
_END = 22  # bytes of the last record, before the comment

_FIX = "Download the release again from its publisher and choose that."


@contextmanager
def opened_archive(path: Path) -> Iterator[zipfile.ZipFile]:
    """Open a zip archive whose list of files is short enough to read."""
    if _directory_bytes(path) > _MOST_DIRECTORY:
        what = "The archive lists far more files than a release has."
        raise BadInput(Problem(where=str(path), what=what, fix=_FIX))
    try:
        archive = zipfile.ZipFile(path)
    except (zipfile.BadZipFile, ValueError, NotImplementedError, struct.error) as error:
        what = f"The archive is broken ({error})."
        raise FileProblem(Problem(where=str(path), what=what, fix=_FIX)) from error
    with archive:
        yield archive


def checked_members(
    archive: zipfile.ZipFile, path: Path, suffixes: tuple[str, ...]
) -> list[zipfile.ZipInfo]:
    """Return the files with one of ``suffixes``, checked against what a release can be.

    Raises
    ------
    BadInput
        A name leads out of the archive, a file is locked with a password, or the whole would
        unpack to more than any release: all that was found.
    """
    problems = []
    found = []
    for info in archive.infolist():
        name = info.filename.replace("\\", "/")
        where = f"{path}, {name[:80]!r}"
        if name.startswith("/") or ".." in name.split("/") or name[1:2] == ":":
            what = "The name leads out of the archive, which no release does."
            problems.append(Problem(where=where, what=what, fix=_FIX))
        elif name.lower().endswith(suffixes) and "__MACOSX/" not in name:
            found.append(info)
            if info.flag_bits & 1:
                what = "The file is locked with a password."
                problems.append(Problem(where=where, what=what, fix=_FIX))
            elif info.file_size > max(_SMALL, _RATIO * info.compress_size):
                what = f"The file unpacks to {info.file_size / 2**20:.0f} MB, as no release does."
                problems.append(Problem(where=where, what=what, fix=_FIX))
    if sum(info.file_size for info in found) > _MOST_UNPACKED:
        what = f"The archive unpacks to more than {_MOST_UNPACKED / 2**30:.0f} GB."
        problems.append(Problem(where=str(path), what=what, fix=_FIX))
    if sum(info.compress_size for info in found) > path.stat().st_size:
        what = "The archive claims to hold more than it is long: it is broken or made to deceive."
        problems.append(Problem(where=str(path), what=what, fix=_FIX))
    if problems:
        raise BadInput(problems[:20])
    return found


def _directory_bytes(path: Path) -> int:
    """Return what the list of files says that it takes [bytes], before it is loaded whole."""
    with path.open("rb") as file:
        size = file.seek(0, 2)
        file.seek(max(0, size - _END - 2**16))
        tail = file.read()
        at = tail.rfind(b"PK\5\6")
        if at < 0 or len(tail) - at < _END:
            return 0
        listed = int(struct.unpack_from("<L", tail, at + 12)[0])
        large = tail.rfind(b"PK\6\6")
        if listed == 0xFFFFFFFF and large >= 0 and len(tail) - large >= 48:
            listed = int(struct.unpack_from("<Q", tail, large + 40)[0])
        return listed

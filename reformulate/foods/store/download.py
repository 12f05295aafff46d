"""A user's download as named parts: a folder, a zip archive or a single file.

Nothing is unpacked to disk; an archive is refused before it is read when it could not be a release.
"""

from __future__ import annotations

import os
import stat
import zipfile
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import IO, Protocol

from reformulate.errors import BadInput, FileProblem, Problem
from reformulate.foods.store.archive import checked_members, opened_archive

_DEEPEST = 2  # folders below the chosen one that are looked into
_MOST_FILES = 2000  # looked at in a folder
_KINDS = (".txt", ".csv", ".json")


class Opener(Protocol):
    """Opens one part for reading bytes."""

    def __call__(self) -> IO[bytes]:
        """Open it."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One file of a download."""

    name: str
    """File name in lower case."""
    where: str
    """As an error names it."""
    size: int
    """Unpacked [bytes]."""
    modified: str
    """When the file was last changed, ISO 8601."""
    opener: Opener


@dataclass(frozen=True, slots=True, kw_only=True)
class Download:
    """The files of a download."""

    path: Path
    parts: tuple[Part, ...]

    def find(self, *names: str) -> Part | None:
        """Return the first part with one of ``names``, or None."""
        by_name = {part.name: part for part in reversed(self.parts)}
        return next((by_name[name] for name in names if name in by_name), None)

    def ending(self, suffix: str) -> tuple[Part, ...]:
        """Return the parts whose name ends so."""
        return tuple(part for part in self.parts if part.name.endswith(suffix))


@contextmanager
def opened_download(path: Path) -> Iterator[Download]:
    """Give the parts of the folder, archive or file at ``path``.

    Raises
    ------
    FileProblem
        It is not there, may not be read, or is an archive that is broken.
    BadInput
        It is an archive that no release would be.
    """
    with ExitStack() as stack:
        with _readable(path):
            parts = tuple(_parts(path, stack))
        yield Download(path=path, parts=_sole(path, parts))


def _parts(path: Path, stack: ExitStack) -> Iterator[Part]:
    mode = path.stat().st_mode
    if stat.S_ISDIR(mode):
        yield from _in_folder(path)
    elif not stat.S_ISREG(mode):
        raise FileProblem(_no_file(path, "This is neither a file nor a folder."))
    elif zipfile.is_zipfile(path):
        archive = stack.enter_context(opened_archive(path))
        for info in checked_members(archive, path, _KINDS):
            yield _member_part(archive, info, path)
    elif path.suffix.lower() == ".zip":
        raise FileProblem(_no_file(path, "The archive is broken off or is no zip archive."))
    else:
        yield _file_part(path, path.name)


def _in_folder(folder: Path) -> Iterator[Part]:
    seen = 0
    for base, folders, names in os.walk(folder):
        here = Path(base)
        if len(here.relative_to(folder).parts) >= _DEEPEST:
            folders.clear()
        folders.sort()
        for name in sorted(names):
            seen += 1
            if seen > _MOST_FILES:
                what = f"The folder holds more than {_MOST_FILES} files."
                fix = "Choose the folder that holds the files of the release and nothing else."
                raise BadInput(Problem(where=str(folder), what=what, fix=fix))
            path = here / name
            if path.suffix.lower() in _KINDS and path.is_file():
                yield _file_part(path, str(path.relative_to(folder)))


def _file_part(path: Path, where: str) -> Part:
    found = path.stat()

    def opener() -> IO[bytes]:
        with _readable(path):
            return path.open("rb")

    changed = datetime.fromtimestamp(found.st_mtime, UTC)
    return Part(
        name=path.name.lower(),
        where=where,
        size=found.st_size,
        modified=changed.isoformat(timespec="seconds"),
        opener=opener,
    )


def _member_part(archive: zipfile.ZipFile, info: zipfile.ZipInfo, path: Path) -> Part:
    name = info.filename.rsplit("/", 1)[-1]
    year, month, day, hour, minute, second = info.date_time
    return Part(
        name=name.lower(),
        where=f"{name} in {path.name}",
        size=info.file_size,
        modified=f"{year}-{month:02}-{day:02}T{hour:02}:{minute:02}:{second:02}",
        opener=lambda: archive.open(info),
    )


def _sole(path: Path, parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """Shallowest first; a name that stands twice at one depth could mean either."""
    problems = []
    first: dict[str, Part] = {}
    for part in sorted(parts, key=lambda part: (_depth(part), part.where)):
        other = first.setdefault(part.name, part)
        if other is not part and _depth(other) == _depth(part):
            what = f"The name {part.name} stands twice: {other.where} and {part.where}."
            fix = "Choose the folder or archive of one release."
            problems.append(Problem(where=str(path), what=what, fix=fix))
    if problems:
        raise BadInput(problems)
    return tuple(first.values())


def _depth(part: Part) -> int:
    return part.where.replace("\\", "/").count("/")


def _no_file(path: Path, what: str) -> Problem:
    fix = "Choose the folder, the zip archive or the file that you downloaded."
    return Problem(where=str(path), what=what, fix=fix)


@contextmanager
def _readable(path: Path) -> Iterator[None]:
    try:
        yield
    except (OSError, ValueError) as error:  # ValueError: a NUL in the path
        reason = error.strerror if isinstance(error, OSError) and error.strerror else error
        what = f"This cannot be read ({reason})."
        fix = "Check that it exists and that you may open it."
        raise FileProblem(Problem(where=str(path), what=what, fix=fix)) from error

"""Writing a file whole or not at all."""

from __future__ import annotations

import errno
import os
import stat
from contextlib import suppress
from pathlib import Path
from typing import Final
from uuid import uuid4

from reformulate.errors import FileProblem, Problem

ADVICE: Final = {
    errno.ENOSPC: ("the disk is full", "Free some space and save again, or save elsewhere."),
    errno.EDQUOT: ("your share of the disk is full", "Free some space, or save elsewhere."),
    errno.EACCES: ("writing there is not allowed", "Save a copy in another folder."),
    errno.EPERM: ("writing there is not allowed", "Save a copy in another folder."),
    errno.EROFS: ("this disk may only be read", "Save a copy on another disk."),
    errno.ENOENT: ("the folder is gone", "Save a copy in another folder."),
    errno.ENAMETOOLONG: ("the name is too long", "Choose a shorter name."),
}


def write_atomically(path: Path, data: bytes) -> None:
    """Replace a file's content, or leave the file as it is.

    The bytes go to a new file in the same folder, are forced to the disk, and take the old file's
    name in one step, so that a crash or a full disk leaves either the old or the new file.

    Raises
    ------
    FileProblem
        If that fails; the old file is untouched and the new one removed.
    """
    # Through a link, the file it points to is meant; replacing would cut the link.
    target = Path(os.path.realpath(path))
    temporary = target.with_name(f".{uuid4().hex}.tmp")
    try:
        with temporary.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        with suppress(FileNotFoundError):
            temporary.chmod(stat.S_IMODE(target.stat().st_mode))
        temporary.replace(target)
    except (OSError, ValueError) as error:
        raise write_problem(path, error) from None
    finally:
        with suppress(OSError, ValueError):
            temporary.unlink()
    _settle(target.parent)


def write_problem(path: Path, error: OSError | ValueError) -> FileProblem:
    """Return the sentence for a failed write."""
    number = getattr(error, "errno", None)
    reason = getattr(error, "strerror", None) or str(error)
    what, advice = ADVICE.get(number or 0, (reason, "Save a copy elsewhere."))
    return FileProblem(
        Problem(str(path), f"could not be written: {what}. Nothing was changed.", advice)
    )


def _settle(folder: Path) -> None:
    """Force the folder's entry to the disk where the system allows it."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)

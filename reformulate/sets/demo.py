"""The demo set that comes with the program, and a copy of it to work on."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from reformulate.errors import FileProblem, Problem
from reformulate.sets.atomic import write_atomically, write_problem
from reformulate.sets.loading import load_bytes
from reformulate.sets.schema import SET_FILE

DEMO_NAME: Final = "harvest-evening"

PACKAGE: Final = Path(__file__).parents[1]
"""The folder of the program's own code; an installation keeps the demo set in it."""


def demo_source() -> Path:
    """Return the folder of the demo set, in an installed program or in a checkout.

    Nothing may be written there; see ``working_copy``. Raises FileProblem where it is missing.
    """
    for parent in (PACKAGE, PACKAGE.parent):
        folder = parent / "sample_sets" / DEMO_NAME
        if (folder / SET_FILE).is_file():
            return folder
    raise FileProblem(
        Problem(
            f"sample_sets/{DEMO_NAME}",
            "the demo set is missing from this installation.",
            "Install the program again, or open a set of your own.",
        )
    )


def working_copy(target: Path) -> Path:
    """Copy the demo set into the folder ``target``, once, and return that folder.

    A file that is there already is never written over; where the set file is there, the copy
    was made before and nothing is copied.

    Raises
    ------
    FileProblem
        If the demo set is missing, or the copy cannot be written.
    """
    target = Path(target)
    if (target / SET_FILE).exists():
        return target
    source = demo_source()
    try:
        target.mkdir(parents=True, exist_ok=True)
        files = [f for f in source.iterdir() if f.is_file() and not f.name.startswith(".")]
    except OSError as error:
        raise write_problem(target, error) from None
    # The set file last: it says that the copy is complete.
    for file in sorted(files, key=lambda f: (f.name == SET_FILE, f.name)):
        if not (target / file.name).exists():
            write_atomically(target / file.name, load_bytes(file))
    return target

"""Opening the window, without the core knowing that one exists."""

from __future__ import annotations

from importlib.metadata import entry_points
from pathlib import Path

from reformulate.errors import BadInput, Problem

GROUP = "reformulate.window"
"""Entry-point group under which a window registers itself."""


def open_window(folder: Path | None) -> int:
    """Open the window that is installed, on ``folder`` or on what it last had open.

    Raises
    ------
    BadInput
        If none is installed, or its libraries are missing.
    """
    for entry in entry_points(group=GROUP):
        try:
            start = entry.load()
        except ImportError as error:
            raise BadInput(
                Problem(
                    "window",
                    f"cannot be opened here: {error}.",
                    "Install the system libraries the README names, or use a command.",
                )
            ) from error
        code: int = start(folder)
        return code
    raise BadInput(
        Problem("window", "none is installed.", "Install the program with pip, then try again.")
    )

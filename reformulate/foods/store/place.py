"""Where the foods that a user imports are kept."""

from __future__ import annotations

from pathlib import Path

from platformdirs import user_data_path


def default_store_path() -> Path:
    """Return the file in the user's own data folder, on this system; it need not exist."""
    return user_data_path("Reformulate", appauthor=False) / "foods.sqlite"

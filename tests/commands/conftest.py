"""No command test sees the foods that whoever runs it has imported."""

from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def own_store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where imported foods are kept by default: nothing is there yet."""
    path = tmp_path / "imported" / "foods.sqlite"
    for place in ("reformulate.foods.store.store", "reformulate.commands.loading"):
        monkeypatch.setattr(f"{place}.default_store_path", lambda: path)
    return path

"""What the window remembers between starts, declared once."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Final

from PySide6.QtCore import QSettings

TEXT_SIZES: Final = (80, 90, 100, 115, 130, 150)
"""Sizes of text on offer, of the system's own [%]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """The user's choices."""

    last_set: str = ""
    """Folder of the set opened last; empty for the demo set."""
    theme: str = "system"
    """``light``, ``dark`` or ``system``."""
    text_size: int = 100
    """Text size, of the system's own [%]."""


def read_settings(store: QSettings) -> Settings:
    """Read the settings; a value that cannot be read falls back to its default."""
    defaults = Settings()
    values: dict[str, object] = {}
    for field in fields(Settings):
        default = getattr(defaults, field.name)
        found = store.value(field.name, default)
        try:
            values[field.name] = type(default)(found)
        except (TypeError, ValueError):
            values[field.name] = default
    if values["theme"] not in ("light", "dark", "system"):
        values["theme"] = defaults.theme
    if values["text_size"] not in TEXT_SIZES:
        values["text_size"] = defaults.text_size
    return Settings(**values)  # type: ignore[arg-type]


def write_settings(store: QSettings, settings: Settings) -> None:
    """Write every setting."""
    for field in fields(Settings):
        store.setValue(field.name, getattr(settings, field.name))

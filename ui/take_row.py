"""The buttons of a dialog that makes one thing: take it, or cancel."""

from __future__ import annotations

from PySide6.QtWidgets import QDialog, QDialogButtonBox

from ui.widgets import named


class TakeRow(QDialogButtonBox):
    """Accepts or rejects its dialog; ``take`` is to be enabled once there is something to take."""

    def __init__(self, dialog: QDialog, words: str, name: str = "take") -> None:
        super().__init__(dialog)
        self.take = named(self.addButton(words, QDialogButtonBox.ButtonRole.AcceptRole), name)
        self.take.setProperty("primary", True)
        self.take.setEnabled(False)
        self.addButton(QDialogButtonBox.StandardButton.Cancel)
        self.accepted.connect(dialog.accept)
        self.rejected.connect(dialog.reject)

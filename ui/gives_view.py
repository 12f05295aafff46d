"""To be written."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from ui.session import Session


class GivesView(QWidget):
    def __init__(self, session: Session) -> None:
        super().__init__()

"""To be written."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from ui.session import Session
from ui.theme import Theme


class SwapsView(QWidget):
    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()

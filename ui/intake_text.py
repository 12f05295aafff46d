"""The text of a recipe on its way in: pasted, typed, or from a file."""

from __future__ import annotations

from PySide6.QtGui import QColor, QTextCharFormat, QTextCursor, QTextFormat
from PySide6.QtWidgets import QHBoxLayout, QPlainTextEdit, QTextEdit, QVBoxLayout, QWidget

from ui.theme import Theme
from ui.widgets import heading, named, tool_button

HINT = (
    "Paste a recipe here, as it stands in a mail, a note or on a page: its title, its ingredients, "
    "its method.\n\nIt is read as you type. Nothing leaves this computer."
)


class IntakeText(QWidget):
    """A field for the text, with what fills and empties it."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._shown = ""
        self.field = named(QPlainTextEdit(), "recipe text")
        self.field.setAccessibleName("The recipe as text")
        self.field.setPlaceholderText(HINT)
        self.field.setTabChangesFocus(True)
        self.open_file = tool_button("open recipe file", "Open a file …")
        self.open_file.setToolTip("A text, or a page saved from a browser (.html, .json)")
        self.other = tool_button("other recipe", "Other recipes ▾")
        self.other.setToolTip("The other recipes of this page")
        self.other.hide()
        self.anew = tool_button("start anew", "Start anew")
        self.anew.setToolTip("Empty the text; Ctrl+Z in it brings it back")
        tools = QHBoxLayout()
        tools.setContentsMargins(0, 0, 0, 0)
        tools.addWidget(self.open_file)
        tools.addWidget(self.other)
        tools.addStretch(1)
        tools.addWidget(self.anew)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(8)
        layout.addWidget(heading("The recipe as you have it", name="text heading"))
        layout.addWidget(self.field, 1)
        layout.addLayout(tools)
        theme.changed.connect(self._restyle)
        self._restyle()

    @property
    def text(self) -> str:
        """What stands in the field."""
        return self.field.toPlainText()

    def replace(self, text: str) -> None:
        """Put another text in the place of what stands there; undo brings that back."""
        cursor = self.field.textCursor()
        cursor.select(QTextCursor.SelectionType.Document)
        cursor.insertText(text)
        self.field.moveCursor(QTextCursor.MoveOperation.Start)

    def mark(self, line: str) -> None:
        """Show where a line stands in the text; "" for nowhere."""
        self._shown = line
        self.field.setExtraSelections([])
        if not line:
            return
        found = self.field.document().find(line)
        if found.isNull():
            return
        selection = QTextEdit.ExtraSelection()
        ground = QTextCharFormat()
        ground.setBackground(QColor(self._theme.colour("selected")))
        ground.setProperty(QTextFormat.Property.FullWidthSelection, True)
        found.clearSelection()
        selection.cursor, selection.format = found, ground
        self.field.setExtraSelections([selection])
        if not self.field.hasFocus():
            self.field.setTextCursor(found)
            self.field.ensureCursorVisible()

    def _restyle(self) -> None:
        surface, line, accent = (
            self._theme.colour(name).name() for name in ("surface", "line", "accent")
        )
        self.field.setStyleSheet(
            f"QPlainTextEdit {{ background: {surface}; border: 1px solid {line};"
            " border-radius: 8px; padding: 6px; }"
            f"QPlainTextEdit:focus {{ border: 1px solid {accent}; }}"
        )
        self.mark(self._shown)

"""The recipes of the set."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRectF,
    Qt,
    QTimer,
)
from PySide6.QtGui import QFont, QPainter
from PySide6.QtWidgets import (
    QLabel,
    QListView,
    QStyle,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from reformulate import Answer, Per, level, quantity
from ui.session import Session
from ui.theme import Theme
from ui.two_lines import TwoLineDelegate
from ui.widgets import heading, muted_label, named
from ui.work import Worker

SUMMARY_ROLE = Qt.ItemDataRole.UserRole + 1
"""The second line: energy before and after."""

Index = QModelIndex | QPersistentModelIndex


class RecipeList(QAbstractListModel):
    """Title and energy of each recipe; energies of recipes not on screen are worked out at rest."""

    def __init__(self, session: Session, parent: QObject) -> None:
        super().__init__(parent)
        self._session = session
        self._summaries: dict[int, str] = {}
        self._idle = QTimer(self)
        self._idle.setSingleShot(True)
        self._idle.setInterval(0)
        self._idle.timeout.connect(self._summarise_next)
        self._row = -1
        self._worker = Worker(self)
        self._worker.done.connect(self._on_done)
        session.set_changed.connect(self._reset)
        session.answer_changed.connect(self._on_answer)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Return the number of recipes."""
        return 0 if parent.isValid() else len(self._session.documents)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return a recipe's title, or its second line."""
        if not index.isValid():
            return None
        document = self._session.documents[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return document.recipe.title
        if role == SUMMARY_ROLE:
            return self._summaries.get(index.row(), "")
        if role == Qt.ItemDataRole.ToolTipRole:
            return document.brief.aim or document.recipe.title
        return None

    def _reset(self) -> None:
        self.beginResetModel()
        self._worker.cancel()
        self._summaries.clear()
        self.endResetModel()
        self._idle.start()

    def _on_answer(self) -> None:
        if self.rowCount():
            self._summarise(self._session.current, self._session.answer)

    def _summarise_next(self) -> None:
        waiting = [row for row in range(self.rowCount()) if row not in self._summaries]
        if waiting:
            self._row = waiting[0]
            self._worker.start(self._session.work_on(self._row))

    def _on_done(self, answer: object) -> None:
        if self._row not in self._summaries and self._row < self.rowCount():
            self._summarise(self._row, answer if isinstance(answer, Answer) else None)
        self._idle.start()

    def _summarise(self, row: int, answer: Answer | None) -> None:
        if answer is None:
            words = "needs attention"
        else:
            servings = answer.original.servings
            before, after = (
                level("energy_kcal", Per.SERVING, grams, answer.items, servings)
                for grams in (answer.items.original, answer.grams)
            )
            words = quantity(after, "energy_kcal", Per.SERVING)
            if abs(after - before) >= 0.5:
                words = f"{before:.0f} → {words}"
        if self._summaries.get(row) != words:
            self._summaries[row] = words
            index = self.index(row)
            self.dataChanged.emit(index, index, [SUMMARY_ROLE])


class Sidebar(QWidget):
    """Set title and the list of its recipes."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()
        self.setObjectName("sidebar")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self._session = session
        self._title = heading("", 1.05, name="set title")
        self._title.setWordWrap(True)
        self._note = muted_label("", small=True, name="set note")
        self._note.setWordWrap(True)
        self._broken = named(QLabel(), "broken files")
        self._broken.setProperty("bad", True)
        self._broken.setWordWrap(True)
        self.view = named(QListView(), "recipe list")
        self.view.setAccessibleName("Recipes of the set")
        self.view.setModel(RecipeList(session, self.view))
        self.view.setItemDelegate(_RecipeDelegate(theme, self.view))
        self.view.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.view.selectionModel().currentChanged.connect(self._on_chosen)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 16, 1, 12)
        layout.setSpacing(4)
        for label in (self._title, self._note):
            label.setContentsMargins(16, 0, 12, 0)
            layout.addWidget(label)
        layout.addSpacing(10)
        layout.addWidget(self.view, 1)
        self._broken.setContentsMargins(16, 0, 12, 0)
        layout.addWidget(self._broken)
        session.set_changed.connect(self._refresh)
        session.current_changed.connect(self._select)

    def _refresh(self) -> None:
        opened = self._session.recipe_set
        if opened is None:
            return
        self._title.setText(opened.title)
        self._note.setText(opened.note)
        broken = [f"{b.path.name}: {b.problems[0]}" for b in opened.broken]
        self._broken.setText("\n".join(broken))
        self._broken.setVisible(bool(broken))

    def _select(self) -> None:
        index = self.view.model().index(self._session.current, 0)
        if index != self.view.currentIndex():
            self.view.setCurrentIndex(index)

    def _on_chosen(self, current: QModelIndex) -> None:
        if current.isValid() and current.row() != self._session.current:
            self._session.show_document(current.row())


class _RecipeDelegate(TwoLineDelegate):
    """Two lines: title, then energy."""

    air = 16

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint a rounded ground under the chosen recipe, and its two lines."""
        painter.save()
        rect = QRectF(option.rect).adjusted(8, 2, -8, -2)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        if chosen:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self._theme.colour("selected"))
            painter.drawRoundedRect(rect, 6, 6)
        font = QFont(option.font)
        font.setBold(chosen)
        # Until the energy is worked out a blank keeps its place, so that titles do not jump.
        self.write(
            painter,
            rect.adjusted(8, 5, -6, -5),
            (str(index.data()), font, self._theme.colour("text")),
            str(index.data(SUMMARY_ROLE) or " "),
        )
        painter.restore()

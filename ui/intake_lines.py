"""The lines of a recipe on its way in: as written beside as read."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
)

from reformulate import Intake, IntakeLine, Topic
from ui.phrases import plain_tip

MARK, WRITTEN, AMOUNT, FOOD, GRAMS, ROLE = range(6)
HEADS: Final = ("", "As written", "Amount", "Food", "Grams", "What it does")
SURE, OPEN, OUT = "✓", "?", "–"
"""The marks: nothing is open, something is, the line is left out."""
SECOND_ROLE: Final = Qt.ItemDataRole.UserRole + 1
"""The second line of a cell: what was decided in the reading."""
OPEN_ROLE: Final = Qt.ItemDataRole.UserRole + 2
"""Whether what the cell shows is open."""
OUT_ROLE: Final = Qt.ItemDataRole.UserRole + 3
"""Whether the line is left out."""

Index = QModelIndex | QPersistentModelIndex


class IntakeTable(QAbstractTableModel):
    """One row a food; shows an intake and changes nothing itself."""

    amount_typed = Signal(int, str)
    """The place of a line, and the amount typed for it."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._intake: Intake | None = None

    @property
    def lines(self) -> tuple[IntakeLine, ...]:
        """The lines shown."""
        return self._intake.lines if self._intake else ()

    def show_intake(self, intake: Intake | None) -> None:
        """Show another intake; where it has as many lines only what differs is drawn anew."""
        before = self.lines
        same = intake is not None and [(o.read, o.part) for o in before] == [
            (n.read, n.part) for n in intake.lines
        ]
        if not same:
            self.beginResetModel()
        self._intake = intake
        if not same:
            self.endResetModel()
        elif before:
            self.dataChanged.emit(self.index(0, 0), self.index(len(before) - 1, ROLE))

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Return the number of lines."""
        return 0 if parent.isValid() else len(self.lines)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Return the number of columns."""
        return 0 if parent.isValid() else len(HEADS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return the heading of a column."""
        if orientation == Qt.Orientation.Horizontal:
            if role == Qt.ItemDataRole.DisplayRole:
                return HEADS[section]
            if role == Qt.ItemDataRole.TextAlignmentRole:
                side = (
                    Qt.AlignmentFlag.AlignRight if section == GRAMS else Qt.AlignmentFlag.AlignLeft
                )
                return int(side | Qt.AlignmentFlag.AlignVCenter)
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Amounts can be typed."""
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        return flags | Qt.ItemFlag.ItemIsEditable if index.column() == AMOUNT else flags

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows, how, and what is to be said about it."""
        if not index.isValid() or self._intake is None:
            return None
        line, column = self.lines[index.row()], index.column()
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole):
            return self._text(line, column)
        if role == Qt.ItemDataRole.AccessibleTextRole and column == MARK:
            return {SURE: "sure", OPEN: "a question is open", OUT: "left out"}[_mark(line)]
        say = _SAYS.get(role)
        return say(line, column) if say else None

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Tell what was typed."""
        if role != Qt.ItemDataRole.EditRole or index.column() != AMOUNT:
            return False
        typed = str(value).strip()
        if typed and typed != self.lines[index.row()].amount:
            self.amount_typed.emit(index.row(), typed)
        return True

    def _text(self, line: IntakeLine, column: int) -> str:
        if column in (MARK, WRITTEN):
            return _mark(line) if column == MARK else _written(line)
        if line.skipped:
            return ""
        if column == FOOD:
            if not line.food or self._intake is None:
                return "which food?"
            return self._intake.foods.food(line.food).name
        grams = "" if line.grams is None else _grams(line.grams)
        return {AMOUNT: line.amount, GRAMS: grams, ROLE: line.role}[column]


def _written(line: IntakeLine) -> str:
    several = line.part or line.read.also
    return f"{line.written}  ({line.name})" if several else line.written


def _mark(line: IntakeLine) -> str:
    return OUT if line.skipped else SURE if line.sure else OPEN


def _grams(grams: float) -> str:
    return f"{grams:.1f}" if grams < 9.95 else f"{grams:.0f}"


def _is_open(line: IntakeLine, column: int) -> bool:
    topics = {question.topic for question in line.questions}
    if column == MARK:
        return bool(topics)
    return (column == FOOD and Topic.FOOD in topics) or (
        column in (AMOUNT, GRAMS) and Topic.AMOUNT in topics
    )


def _about(line: IntakeLine, column: int) -> str:
    if column == FOOD:
        return plain_tip(f"{line.match.why} Click for others.".strip())
    if column == GRAMS:
        return line.route
    if column == ROLE:
        return "What the line does in the dish; holds go by it. Click to change."
    if column == AMOUNT:
        return "Type another amount, such as 1/2 cup or 120 g."
    questions = [question.words for question in line.questions]
    return plain_tip("\n".join([line.read.text.strip(), *line.said, *questions]))


def _second(line: IntakeLine, column: int) -> str:
    return " ".join(line.said) if column == WRITTEN else ""


_SAYS: Final[dict[int, Callable[[IntakeLine, int], object]]] = {
    Qt.ItemDataRole.ToolTipRole: _about,
    SECOND_ROLE: _second,
    OPEN_ROLE: _is_open,
    OUT_ROLE: lambda line, _column: line.skipped,
}

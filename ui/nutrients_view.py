"""All nutrients, original beside now, with what is not known said so."""

from __future__ import annotations

from typing import Any, Final

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QLabel,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from reformulate import NUTRIENTS, Answer, Nutrition, unknown_foods
from ui.session import Session
from ui.widgets import muted_label, named

HEADERS: Final = (
    "Nutrient",
    "Original / serving",
    "Now / serving",
    "Original / 100 g",
    "Now / 100 g",
)

Index = QModelIndex | QPersistentModelIndex


class NutrientTable(QAbstractTableModel):
    """Thirty nutrients per serving and per 100 g, recomputed from the amounts shown."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        session.answer_changed.connect(self._refresh)
        session.current_changed.connect(self._refresh)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Return the number of nutrients, 0 while there is no answer."""
        return 0 if parent.isValid() else len(NUTRIENTS)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Return the number of columns."""
        return 0 if parent.isValid() else len(HEADERS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a column's title."""
        if orientation is Qt.Orientation.Horizontal:
            if role == Qt.ItemDataRole.DisplayRole:
                return HEADERS[section]
            if role == Qt.ItemDataRole.TextAlignmentRole:
                side = Qt.AlignmentFlag.AlignRight if section else Qt.AlignmentFlag.AlignLeft
                return side | Qt.AlignmentFlag.AlignVCenter
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return a figure with its unit, "at least" where a food has none, and which food."""
        answer = self._session.answer
        if not index.isValid() or answer is None:
            return None
        row, column = index.row(), index.column()
        if role == Qt.ItemDataRole.DisplayRole:
            return NUTRIENTS[row].name if column == 0 else _figure(answer, row, column)
        if role == Qt.ItemDataRole.TextAlignmentRole and column:
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        if role == Qt.ItemDataRole.ToolTipRole:
            used = [
                item
                for item, grams in zip(answer.items.ingredients, answer.grams, strict=True)
                if grams > 0
            ]
            unknown = unknown_foods(tuple(used), NUTRIENTS[row].key)
            return f"Not known for: {', '.join(unknown)}" if unknown else None
        return None

    def _refresh(self) -> None:
        self.dataChanged.emit(self.index(0, 0), self.index(len(NUTRIENTS) - 1, len(HEADERS) - 1))


def _figure(answer: Answer, row: int, column: int) -> str:
    amounts: Nutrition = answer.original if column in (1, 3) else answer.achieved
    values = amounts.per_serving if column in (1, 2) else amounts.per_100g
    kind = NUTRIENTS[row]
    words = f"{values[row]:.{kind.decimals}f} {kind.unit}"
    return f"at least {words}" if amounts.at_least[row] else words


class NutrientsView(QWidget):
    """The table, and the check of energy by the general factors below it."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.table = table = named(QTableView(), "nutrients")
        table.setAccessibleName("Nutrients per serving and per 100 g, original and now")
        table.setModel(NutrientTable(session, table))
        table.setShowGrid(False)
        table.verticalHeader().hide()
        table.verticalHeader().setDefaultSectionSize(table.fontMetrics().height() + 9)
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setTabKeyNavigation(False)
        header = table.horizontalHeader()
        header.setSectionsClickable(False)
        header.setHighlightSections(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.ResizeToContents)
        self.check: QLabel = muted_label("", small=True, name="energy check")
        self.check.setWordWrap(True)
        self.check.setContentsMargins(12, 6, 12, 8)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(table, 1)
        layout.addWidget(self.check)
        session.answer_changed.connect(self._refresh)
        session.current_changed.connect(self._refresh)

    def _refresh(self) -> None:
        answer = self._session.answer
        self.check.setText(energy_check_words(answer.achieved) if answer else "")


def energy_check_words(amounts: Nutrition) -> str:
    """Compare energy summed from the foods with energy by 4-4-9."""
    energy = float(amounts.per_serving[1])
    factors = amounts.energy_by_general_factors / amounts.servings
    difference = (factors / energy - 1) * 100 if energy else 0.0
    return (
        f"Energy is summed from the foods' own values: {energy:.0f} kcal per serving. By 4 kcal a "
        f"gram of protein and carbohydrate and 9 of fat it would be {factors:.0f} kcal "
        f"({difference:+.0f} %), shown as a check only."
    ).replace("-", "−")

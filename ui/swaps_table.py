"""What each swap would do, as a table: allowed or pinned, goals, change, taste, cost."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
)

from reformulate import (
    QUANTITY_INDEX,
    Candidate,
    Goal,
    Prospect,
    Swap,
    changes_words,
    quantity_named,
    result_words,
    taste_words,
)

Index = QModelIndex | QPersistentModelIndex
NOTHING = QModelIndex()
SECOND_ROLE = Qt.ItemDataRole.UserRole + 1
"""A second line of a cell."""
EQUALS_ROLE = Qt.ItemDataRole.UserRole + 3
"""True where the two lines of a cell are of one kind, both in small print."""
TONE_ROLE = Qt.ItemDataRole.UserRole + 2
"""The colour of a cell's words by its name: text, muted while figures are old, bad for a goal missed."""

ALLOWED, PINNED, NAME = 0, 1, 2
"""The first columns; a goal each follows, then change, taste and cost."""

HELP = {
    "Allow": "Answers may use it",
    "Pin": "Every answer uses it",
    "Changes": "Changes of all lines added up: 100 % is one line emptied or doubled",
    "Taste": "What moves most against the original; none of it is flavour",
    "Cost": "Per serving; ≥ where a price is not known",
}
"""What the columns mean."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class SwapRow:
    """One swap of the table."""

    candidate: Candidate
    prospect: Prospect | None
    """None while it is being worked out."""
    name: str
    """Of the food that stands in."""
    stands_in_for: str

    @property
    def swap(self) -> Swap:
        """The swap itself."""
        return self.candidate.swap


class SwapsTable(QAbstractTableModel):
    """Rows in the order they were worked out; ticks are handed on, the model keeps nothing."""

    ticked = Signal(object, str, bool)
    """A swap, ``allowed`` or ``pinned``, and whether it is wanted."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: tuple[SwapRow, ...] = ()
        self._goals: tuple[Goal, ...] = ()
        self._priced = self._faint = False

    def show_rows(
        self,
        rows: tuple[SwapRow, ...],
        goals: tuple[Goal, ...],
        *,
        priced: bool,
        faint: bool = False,
    ) -> None:
        """Show other rows; ``faint`` while their figures belong to the brief before."""
        self.beginResetModel()
        self._rows, self._goals, self._priced, self._faint = rows, goals, priced, faint
        self.endResetModel()

    def row(self, number: int) -> SwapRow:
        """Return one row."""
        return self._rows[number]

    def may_give_way(self) -> tuple[int, ...]:
        """Return the columns that can be left out where there is no room, the first to go first.

        What they say stands in `figures` too.
        """
        changes = NAME + 1 + len(self._goals)
        return tuple(range(self.columnCount() - 1, changes - 1, -1))

    def number_of(self, swap: Swap) -> int:
        """Return where a swap stands, -1 where it does not."""
        wanted = (swap.food, swap.stands_in_for)
        for number, row in enumerate(self._rows):
            if (row.swap.food, row.swap.stands_in_for) == wanted:
                return number
        return -1

    def rowCount(self, parent: Index = NOTHING) -> int:
        """Return the number of swaps."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOTHING) -> int:
        """Return the number of columns."""
        return 0 if parent.isValid() else NAME + 1 + len(self._goals) + 2 + self._priced

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a column's title."""
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.ToolTipRole:
            return HELP.get(str(self.headerData(section, orientation)))
        if role == Qt.ItemDataRole.TextAlignmentRole:
            tick = section in (ALLOWED, PINNED)
            side = Qt.AlignmentFlag.AlignHCenter if tick else Qt.AlignmentFlag.AlignLeft
            return side | Qt.AlignmentFlag.AlignVCenter
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        titles = (
            "Allow",
            "Pin",
            "Stand-in",
            *(quantity_named(goal.nutrient).name for goal in self._goals),
            "Changes",
            "Taste",
            *(("Cost",) if self._priced else ()),
        )
        return titles[section]

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows."""
        row, column = self._rows[index.row()], index.column()
        if column in (ALLOWED, PINNED):
            return self._tick(row, column, role)
        if role == Qt.ItemDataRole.DisplayRole:
            return self._words(row, column).partition("\n")[0]
        if role == SECOND_ROLE:
            return self._words(row, column).partition("\n")[2]
        if role == EQUALS_ROLE:
            return column == NAME + 1 + len(self._goals) + 1
        if role == TONE_ROLE:
            return "muted" if self._faint else "bad" if self._is_missed(row, column) else "text"
        return self.about(row) if role == Qt.ItemDataRole.ToolTipRole else None

    def _tick(self, row: SwapRow, column: int, role: int) -> Any:
        if role == Qt.ItemDataRole.CheckStateRole:
            swap = row.swap
            on = row.candidate.in_brief and swap.allowed and (column == ALLOWED or swap.pinned)
            return Qt.CheckState.Checked if on else Qt.CheckState.Unchecked
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{'Allow' if column == ALLOWED else 'Pin'} {row.name}"
        return self.about(row) if role == Qt.ItemDataRole.ToolTipRole else None

    def _is_missed(self, row: SwapRow, column: int) -> bool:
        answer, goal = row.prospect.answer if row.prospect else None, column - NAME - 1
        if answer is None or not 0 <= goal < len(answer.goals):
            return False
        return not answer.goals[goal].met

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Ticks can be set; rows can be chosen."""
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        if index.column() in (ALLOWED, PINNED):
            flags |= Qt.ItemFlag.ItemIsUserCheckable
        return flags

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Hand a tick on."""
        if role != Qt.ItemDataRole.CheckStateRole:
            return False
        which = "allowed" if index.column() == ALLOWED else "pinned"
        on = Qt.CheckState(value) is Qt.CheckState.Checked
        self.ticked.emit(self._rows[index.row()].swap, which, on)
        return True

    def about(self, row: SwapRow) -> str:
        """Say what a swap does, what to take care of, and who says so."""
        exchange = row.candidate.exchange
        parts = [exchange.effect if exchange else "", row.swap.caution]
        sentences = [f"{part.rstrip('.')}." for part in dict.fromkeys(parts) if part]
        if exchange:
            sentences.append(f"Source: {exchange.source}.")
        return " ".join([f"{row.name}.", *sentences])

    def _words(self, row: SwapRow, column: int) -> str:
        """Return a cell's lines."""
        if column in (ALLOWED, PINNED):
            return ""
        if column == NAME:
            return f"{row.name}\nfor {row.stands_in_for}"
        if row.prospect is None or row.prospect.answer is None:
            return "…" if row.prospect is None else "–"
        words = (
            *(result_words(result) for result in row.prospect.answer.goals),
            changes_words(row.prospect).removeprefix("changes "),
            taste_words(row.prospect).replace(", ", "\n"),
            cost_words(row.prospect),
        )
        return words[column - NAME - 1]


def cost_words(prospect: Prospect) -> str:
    """Say what a serving costs with a swap; ``≥`` where a price is not known."""
    answer, cost = prospect.answer, QUANTITY_INDEX["cost"]
    if answer is None:
        return ""
    least = "≥ " if answer.achieved.at_least[cost] else ""
    return f"{least}{answer.achieved.per_serving[cost]:.2f}"


def with_tick(swaps: tuple[Swap, ...], swap: Swap, which: str, *, on: bool) -> tuple[Swap, ...]:
    """Return a brief's swaps with one of them allowed, pinned, or neither; a new one is added."""
    if which == "allowed":
        new = replace(swap, allowed=on, pinned=swap.pinned and on)
    else:
        new = replace(swap, pinned=on, allowed=on or swap.allowed)
    same = [(old.food, old.stands_in_for) == (swap.food, swap.stands_in_for) for old in swaps]
    if any(same):
        return tuple(new if here else old for old, here in zip(swaps, same, strict=True))
    return (*swaps, new) if on else swaps

"""The recipe as a table: original beside now, the change, what is held. A view of the session."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import isinf
from typing import Any, Final

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from reformulate import (
    BadInput,
    Document,
    ItemAmount,
    Line,
    LineHold,
    Swap,
    grams_words,
    percent_words,
)
from ui.amounts import after_lines, before_lines
from ui.hold_words import FREE, LOCK, read_hold, write_hold
from ui.session import Session

NUMBER_ROLE: Final = Qt.ItemDataRole.UserRole + 1
"""The relative change behind a cell of the change column [1]; None where there is none."""
SECOND_LINE_ROLE: Final = Qt.ItemDataRole.UserRole + 2
"""The smaller second line of a cell."""
TONE_ROLE: Final = Qt.ItemDataRole.UserRole + 3
"""How a cell is meant: plain, strong, muted, more, held."""

INGREDIENT, ORIGINAL, NOW, CHANGE, HOLD = range(5)
HEADERS: Final = ("Ingredient", "Original", "Now", "Change", "Hold")
TIPS: Final = (
    "Each line of the recipe, then the swaps",
    "As written; double-click to change it",
    "The amount in the answer, grams beside it",
    "Relative to the original",
    "What is held: lock, free, ± 15 %, 100–200 g. Space locks and frees; on a swap it allows it",
)

Index = QModelIndex | QPersistentModelIndex


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Row:
    """One line or swap, before and after."""

    line: Line | None = None
    swap: Swap | None = None
    amount: ItemAmount | None = None
    name: str = ""
    detail: str = ""
    before: tuple[str, str] = ("", "")
    after: tuple[str, str] = ("", "")
    hold: str = ""
    route: str = ""

    @property
    def texts(self) -> tuple[object, ...]:
        """All that a reader sees, to tell which rows a change touched."""
        change = self.amount.change if self.amount else None
        return (self.name, self.detail, self.before, self.after, self.hold, change)


class RecipeTable(QAbstractTableModel):
    """Lines of the recipe on screen, then its swaps, allowed or not."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._rows: tuple[Row, ...] = _rows(session)
        session.answer_changed.connect(self._refresh)
        session.current_changed.connect(self._reset)

    def row(self, row: int) -> Row:
        """Return what stands in a row."""
        return self._rows[row]

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Return how many lines and swaps there are."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Return the number of columns."""
        return 0 if parent.isValid() else len(HEADERS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a column's title, or its tip."""
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return HEADERS[section]
        if role == Qt.ItemDataRole.ToolTipRole:
            return TIPS[section]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            side = {CHANGE: Qt.AlignmentFlag.AlignHCenter, HOLD: Qt.AlignmentFlag.AlignRight}
            return side.get(section, Qt.AlignmentFlag.AlignLeft) | Qt.AlignmentFlag.AlignVCenter
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows."""
        if not index.isValid():
            return None
        row, column = self._rows[index.row()], index.column()
        reader = _READERS.get(role)
        return reader(row, column) if reader else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Original and hold can be edited."""
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        if index.column() in (ORIGINAL, HOLD) and self._rows[index.row()].line:
            flags |= Qt.ItemFlag.ItemIsEditable
        return flags

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Take a typed amount or hold; what cannot be read is refused with its reason."""
        if not index.isValid() or role != Qt.ItemDataRole.EditRole:
            return False
        line = self._rows[index.row()].line
        if line is None:
            return False
        if index.column() == ORIGINAL:
            return self.set_amount(line, str(value))
        if index.column() == HOLD:
            try:
                hold = read_hold(line.id, str(value))
            except BadInput as error:
                self._session.refused.emit(error)
                return False
            return self.set_hold(line.id, hold)
        return False

    def set_amount(self, line: Line, text: str) -> bool:
        """Change the original amount of a line."""
        changed = replace(line, amount=text.strip(), grams=None)
        if changed.amount == line.written:
            return True

        def edit(document: Document) -> Document:
            return replace(document, recipe=document.recipe.with_line(changed))

        return self._session.edit(edit, f"Change amount of {line.food}")

    def set_hold(self, line_id: str, hold: LineHold | None) -> bool:
        """Change what is held of a line."""
        return self._session.edit_brief(
            lambda brief: brief.with_line_hold(line_id, hold), f"Hold {line_id}"
        )

    def toggle(self, row: int) -> None:
        """Lock or free a line; allow a swap or leave it out."""
        entry = self._rows[row]
        if entry.line:
            free = entry.hold == FREE
            self.set_hold(
                entry.line.id, LineHold(line=entry.line.id, tolerance=0.0) if free else None
            )
        elif entry.swap:
            swap = entry.swap
            turned = replace(swap, allowed=not swap.allowed, pinned=False)
            verb = "Allow" if turned.allowed else "Leave out"
            self._session.edit_brief(
                lambda brief: replace(
                    brief, swaps=tuple(turned if old is swap else old for old in brief.swaps)
                ),
                f"{verb} {entry.name.lower()}",
            )

    def remove_swap(self, row: int) -> None:
        """Take a swap out of the brief."""
        swap = self._rows[row].swap
        if swap:
            self._session.edit_brief(
                lambda brief: replace(brief, swaps=tuple(s for s in brief.swaps if s is not swap)),
                f"Remove swap {self._rows[row].name.lower()}",
            )

    def _reset(self) -> None:
        self.beginResetModel()
        self._rows = _rows(self._session)
        self.endResetModel()

    def _refresh(self) -> None:
        rows = _rows(self._session)
        if [(r.line and r.line.id, r.swap and r.swap.food) for r in rows] != [
            (r.line and r.line.id, r.swap and r.swap.food) for r in self._rows
        ]:
            self._reset()
            return
        before, self._rows = self._rows, rows
        for number, (old, new) in enumerate(zip(before, rows, strict=True)):
            if old.texts != new.texts:
                self.dataChanged.emit(self.index(number, 0), self.index(number, len(HEADERS) - 1))


def _rows(session: Session) -> tuple[Row, ...]:
    document = session.document
    if document is None:
        return ()
    answer, batch, brief = session.answer, session.batch, document.brief
    amounts = answer.amounts if answer else ()
    by_line = {amount.line.id: amount for amount in amounts if amount.line}
    by_swap = {id(amount.swap): amount for amount in amounts if amount.swap}
    rows = []
    for number, line in enumerate(document.recipe.lines):
        amount = by_line.get(line.id)
        food = batch.ingredients[number].food if batch else None
        rows.append(
            Row(
                line=line,
                amount=amount,
                name=food.name if food else line.food,
                detail=line.prep or line.role,
                before=before_lines(amount) if amount else (line.written, ""),
                after=after_lines(amount, session.system) if amount else ("", ""),
                hold=write_hold(brief.hold_on(line.id)),
                route=batch.routes[number] if batch else "",
            )
        )
    names = {row.line.id: row.name.split(",")[0].lower() for row in rows if row.line}
    for swap in brief.swaps:
        amount = by_swap.get(id(swap))
        food = session.foods.food(swap.food)
        rows.append(
            Row(
                swap=swap,
                amount=amount,
                name=food.name,
                detail="for " + ", ".join(names[line] for line in swap.stands_in_for),
                after=after_lines(amount, session.system) if amount else ("", ""),
                hold="pinned" if swap.pinned else "allowed" if swap.allowed else "left out",
                route=swap.caution,
            )
        )
    return tuple(rows)


def _display(row: Row, column: int) -> str:
    return (
        row.name,
        row.before[0],
        row.after[0],
        change_words(row.amount),
        row.hold,
    )[column]


def _second_line(row: Row, column: int) -> str:
    return (
        row.detail,
        row.before[1],
        row.after[1],
        change_words(row.amount),
        "",
    )[column]


def _tone(row: Row, column: int) -> str:
    amount = row.amount
    used = amount is not None and amount.after > 0
    if column == HOLD:
        held = row.hold != FREE if row.line else bool(row.swap and row.swap.allowed)
        return "held" if held else "muted"
    if row.swap:
        return "more" if used and column in (INGREDIENT, NOW) else "muted"
    if column == ORIGINAL or not used:
        return "muted"
    return "strong" if column == NOW and amount is not None and amount.moved else "plain"


def _edit(row: Row, column: int) -> str:
    if column == ORIGINAL and row.line:
        return row.line.written
    return row.hold


def _tip(row: Row, column: int) -> str:
    if column == ORIGINAL and row.line:
        return f"{row.line.written}: {row.route}"
    if column == NOW and row.amount:
        return f"{grams_words(row.amount.after)}; the original has {grams_words(row.amount.before)}"
    if column == HOLD:
        return TIPS[HOLD]
    words = f"{row.name}, {row.detail}"
    return f"{words}. {row.route}" if row.swap and row.route else words


def _number(row: Row, column: int) -> float | None:
    if column != CHANGE or row.amount is None or not row.amount.moved:
        return None
    return row.amount.change


def change_words(amount: ItemAmount | None) -> str:
    """Write a relative change: ``−46 %``, ``new``, ``out``."""
    if amount is None or not amount.moved:
        return ""
    if isinf(amount.change):
        return "new"
    if amount.after == 0.0:
        return "out"
    return percent_words(amount.change)


_READERS: Final[dict[int, Callable[[Row, int], object]]] = {
    int(Qt.ItemDataRole.DisplayRole): _display,
    int(Qt.ItemDataRole.EditRole): _edit,
    int(Qt.ItemDataRole.ToolTipRole): _tip,
    NUMBER_ROLE: _number,
    SECOND_LINE_ROLE: _second_line,
    TONE_ROLE: _tone,
}

__all__ = [
    "CHANGE",
    "HOLD",
    "INGREDIENT",
    "LOCK",
    "NOW",
    "NUMBER_ROLE",
    "ORIGINAL",
    "SECOND_LINE_ROLE",
    "TONE_ROLE",
    "RecipeTable",
    "Row",
    "change_words",
]

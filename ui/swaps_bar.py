"""What stands above the table of swaps: how many, which kinds, and the search of the whole table."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QMenu, QWidget

from ui.widgets import menu_button

MOSTS = (None, 0, 1, 2, 3, 4)
"""Numbers of swaps an answer may be limited to; None does not limit it."""


class SwapsBar(QWidget):
    """Three menus; what they have is asked for when they open."""

    most_wanted = Signal(object)
    """How many swaps an answer may use, None for any number."""
    kind_wanted = Signal(str)
    """The kind of exchange to look at; none for all of them."""
    search_wanted = Signal(str)
    """The id of the line to search the whole table for."""

    def __init__(
        self, kinds: Callable[[], list[str]], lines: Callable[[], list[tuple[str, str]]]
    ) -> None:
        """Take the ids of lines with the names of their foods."""
        super().__init__()
        self._kinds, self._lines = kinds, lines
        self._most = menu_button(
            "most swaps", self._fill_most, tip="How many swaps an answer may use"
        )
        self._kind = menu_button(
            "swap kinds", self._fill_kinds, tip="Which exchanges of the swap book to look at"
        )
        search = menu_button(
            "search table",
            self._fill_search,
            text="Search the whole table ▾",
            tip="Which food of all would help most in the place of a line",
        )
        row = QHBoxLayout(self)
        row.setContentsMargins(6, 0, 6, 0)
        row.addWidget(self._most)
        row.addWidget(self._kind)
        row.addStretch(1)
        row.addWidget(search)
        self.show_chosen(None, "")

    def show_chosen(self, most: int | None, kind: str) -> None:
        """Show what is chosen now."""
        self._most.setText(f"most swaps: {_number(most)} ▾")
        self._kind.setText(f"{kind or 'all kinds'} ▾")

    def _fill_most(self, menu: QMenu) -> None:
        for most in MOSTS:
            menu.addAction(_number(most), partial(self.most_wanted.emit, most))

    def _fill_kinds(self, menu: QMenu) -> None:
        for kind in ("", *self._kinds()):
            menu.addAction(kind or "all kinds", partial(self.kind_wanted.emit, kind))

    def _fill_search(self, menu: QMenu) -> None:
        for line, name in self._lines():
            menu.addAction(f"in place of {name}", partial(self.search_wanted.emit, line))


def _number(most: int | None) -> str:
    return "any number" if most is None else str(most)

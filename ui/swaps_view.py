"""Explore swaps: what each would do on its own, tick to allow, pin to use; search the whole table."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import NamedTuple

from PySide6.QtCore import QItemSelectionModel, Qt, QTimer
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QMenu,
    QProgressBar,
    QTableView,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from reformulate import (
    QUANTITY_INDEX,
    Brief,
    Candidate,
    Prospect,
    Swap,
    TableSearch,
    candidate_swaps,
    explore,
    moved_words,
    search_table,
    spoken,
)
from ui.session import Session
from ui.swaps_table import NAME, SwapRow, SwapsTable, with_tick
from ui.theme import Theme
from ui.widgets import muted_label, named, tool_button
from ui.work import Progress, Worker

REST = 120
"""After this long at rest swaps are worked out anew [ms]."""

SLOW = 300
"""After this long progress is shown [ms]."""


class _Explored(NamedTuple):
    """What was explored, and what came of it."""

    candidates: tuple[Candidate, ...]
    prospects: tuple[Prospect, ...]


class SwapsView(QWidget):
    """A table of swaps with the answer each would give, and what is known of the chosen one."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()
        self.setObjectName("swaps")
        self._session, self._theme = session, theme
        self._found: tuple[Candidate, ...] = ()
        self._found_for = ""
        self._chosen: Swap | None = None
        self._kind = ""
        self._explorer, self._searcher = Worker(self), Worker(self)
        self._explorer.done.connect(self._on_explored)
        self._explorer.failed.connect(self._tell)
        self._searcher.done.connect(self._on_found)
        self._searcher.failed.connect(self._tell)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST)
        self._rest.timeout.connect(self._explore)
        self._model = SwapsTable(session.foods, self)
        self._model.ticked.connect(self._on_ticked)
        self.table = self._build_table()
        self._most = tool_button("most swaps")
        self._kinds = tool_button("swap kinds")
        self._search = tool_button("search table", "Search the whole table ▾")
        self._progress = named(QProgressBar(), "swaps progress")
        self._cancel = tool_button("cancel search", "Cancel")
        self._slow = QTimer(self)
        self._slow.setSingleShot(True)
        self._slow.setInterval(SLOW)
        self._sentence = muted_label("", small=True, name="swaps sentence")
        self._sentence.setWordWrap(True)
        self._about = named(QLabel(), "about swap")
        self._about.setWordWrap(True)
        self._about.setTextFormat(Qt.TextFormat.PlainText)
        self._lay_out()
        session.answer_changed.connect(self._on_changed)
        session.current_changed.connect(self._on_recipe_changed)

    # When

    def showEvent(self, event: QShowEvent) -> None:
        """Work swaps out once they are looked at."""
        super().showEvent(event)
        self._rest.start(0)

    def hideEvent(self, event: QHideEvent) -> None:
        """Stop what nobody looks at."""
        super().hideEvent(event)
        self._rest.stop()
        self._explorer.cancel()
        self._give_up()

    def _on_changed(self) -> None:
        if self.isVisible():
            self._rest.start()

    def _on_recipe_changed(self) -> None:
        self._found, self._found_for, self._chosen, self._kind = (), "", None, ""
        self._give_up()
        self._model.show_rows((), (), priced=False)
        self._sentence.setText("")
        self._on_changed()

    # Exploring

    def _candidates(self) -> tuple[Candidate, ...]:
        document, opened = self._session.document, self._session.recipe_set
        if document is None or opened is None or self._session.batch is None:
            return ()
        known = candidate_swaps(
            document.recipe, document.brief, self._session.foods, opened.exchanges
        )
        have = {(c.swap.food, c.swap.stands_in_for) for c in known}
        new = [c for c in self._found if (c.swap.food, c.swap.stands_in_for) not in have]
        wanted = [c for c in known if c.in_brief or self._kind in ("", _kind_of(c))]
        return (*new, *wanted)

    def _fill_kinds(self) -> None:
        menu = self._kinds.menu()
        menu.clear()
        chosen, self._kind = self._kind, ""
        kinds = sorted({_kind_of(c) for c in self._candidates() if not c.in_brief} - {""})
        self._kind = chosen
        for kind in ("", *kinds):
            action = menu.addAction(kind or "all kinds")
            action.triggered.connect(partial(_call, self._set_kind, kind))

    def _set_kind(self, kind: str) -> None:
        self._kind = kind
        self._rest.start(0)

    def _explore(self) -> None:
        document, batch = self._session.document, self._session.batch
        if document is None or batch is None:
            return
        candidates = self._candidates()
        brief, foods = document.brief, self._session.foods
        if self._model.rowCount() == 0:
            self._show(candidates, {})

        def work(progress: Progress) -> object:
            swaps = [candidate.swap for candidate in candidates]
            return _Explored(candidates, explore(batch, brief, foods, swaps, progress=progress))

        self._explorer.start(work)

    def _on_explored(self, result: object) -> None:
        if isinstance(result, _Explored):
            self._show(result.candidates, {_key(one.swap): one for one in result.prospects})

    def _show(self, candidates: tuple[Candidate, ...], prospects: dict[object, Prospect]) -> None:
        document, batch = self._session.document, self._session.batch
        if document is None or batch is None:
            return
        names = {
            line.id: item.food.name.split(",")[0].lower()
            for line, item in zip(batch.recipe.lines, batch.ingredients, strict=True)
        }
        order = {key: number for number, key in enumerate(prospects)}
        rows = tuple(
            SwapRow(
                candidate=candidate,
                prospect=prospects.get(_key(candidate.swap)),
                name=_named(self._session.foods.food(candidate.swap.food).name),
                stands_in_for=", ".join(names[line] for line in candidate.swap.stands_in_for),
            )
            for candidate in sorted(candidates, key=lambda c: order.get(_key(c.swap), len(order)))
        )
        cost = QUANTITY_INDEX["cost"]
        priced = any(item.known[cost] for item in batch.ingredients)
        self._model.show_rows(rows, document.brief.goals, priced=priced)
        self._size_columns()
        most = document.brief.max_swaps
        self._kinds.setText(f"{self._kind or 'all kinds'} ▾")
        self._most.setText(f"most swaps: {'any number' if most is None else most} ▾")
        number = self._model.number_of(self._chosen) if self._chosen else 0
        if rows:
            at = self._model.index(max(number, 0), NAME)
            flags = QItemSelectionModel.SelectionFlag
            self.table.selectionModel().setCurrentIndex(at, flags.ClearAndSelect | flags.Rows)
        if not self._found:
            self._sentence.setText(
                "Each swap on its own, in use, everything else kept; nearest to the goals first."
                if rows
                else "The swap book has nothing for these lines. Search the whole table."
            )

    def _on_current(self) -> None:
        index = self.table.currentIndex()
        if not index.isValid():
            self._about.setText("")
            return
        row = self._model.row(index.row())
        self._chosen = row.swap
        parts = [self._model.about(row)]
        answer = row.prospect.answer if row.prospect else None
        if answer is not None:
            moves = moved_words(answer.items, answer.grams)
            parts.append(f"With it: {', '.join(moves[:5]) or 'nothing moves'}.")
        elif row.prospect is not None:
            parts.append(" ".join(str(problem) for problem in row.prospect.problems))
        self._about.setText("\n".join(part for part in parts if part))

    # Editing

    def _on_ticked(self, swap: Swap, which: str, on: bool) -> None:
        self._chosen = swap
        verb = {"allowed": "Allow", "pinned": "Pin"}[which] if on else "Take out"
        self._session.edit_brief(
            lambda brief: replace(brief, swaps=with_tick(brief.swaps, swap, which, on=on)),
            f"{verb} {swap.food}",
        )

    def _set_most(self, most: int | None) -> None:
        def change(brief: Brief) -> Brief:
            return replace(brief, max_swaps=most)

        self._session.edit_brief(change, "Change most swaps")

    # Searching the whole table

    def _fill_search(self) -> None:
        menu = self._search.menu()
        menu.clear()
        batch = self._session.batch
        if batch is None:
            return
        for line, item in zip(batch.recipe.lines, batch.ingredients, strict=True):
            action = menu.addAction(f"in place of {spoken(item.food.name)}")
            action.triggered.connect(partial(self.search, (line.id,)))

    def search(self, lines: tuple[str, ...], _checked: bool = False) -> None:
        """Find the foods of the whole table that would help most in place of lines."""
        document, batch = self._session.document, self._session.batch
        if document is None or batch is None:
            return
        brief, foods = document.brief, self._session.foods
        names = {
            line.id: item.food.name
            for line, item in zip(batch.recipe.lines, batch.ingredients, strict=True)
        }
        self._found_for = " and ".join(spoken(names[line]) for line in lines)

        def work(progress: Progress) -> object:
            return search_table(batch, brief, foods, lines, progress=progress)

        self._slow.start()
        self._searcher.start(work)

    def _on_found(self, result: object) -> None:
        if not isinstance(result, TableSearch):
            return
        self._give_up()
        self._found = tuple(Candidate(swap=one.swap) for one in result.found)
        self._chosen = self._found[0].swap if self._found else self._chosen
        self._sentence.setText(
            f"In place of {self._found_for}: the {len(result.found)} best of {result.priced} foods stand "
            f"first. Proven: {result.solved} programs solved, and no other food can do better. "
            "The search knows figures, not flavour."
        )
        self._rest.start(0)

    def _give_up(self) -> None:
        self._searcher.cancel()
        self._slow.stop()
        self._progress.hide()
        self._cancel.hide()

    def _on_slow(self) -> None:
        if self._searcher.busy:
            self._progress.show()
            self._cancel.show()

    def _tell(self, words: str) -> None:
        self._give_up()
        self._sentence.setText(words)

    # Building

    def _build_table(self) -> QTableView:
        table = named(QTableView(), "swaps table")
        table.setModel(self._model)
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setShowGrid(False)
        table.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        table.setWordWrap(True)
        table.setAccessibleName("Swaps")
        table.verticalHeader().hide()
        table.verticalHeader().setDefaultSectionSize(2 * self.fontMetrics().height() + 6)
        table.horizontalHeader().setHighlightSections(False)
        table.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft)
        table.selectionModel().currentRowChanged.connect(self._on_current)
        self._model.modelReset.connect(self._on_current)
        return table

    def _size_columns(self) -> None:
        header = self.table.horizontalHeader()
        width = self.fontMetrics().horizontalAdvance("0")
        for column in range(self._model.columnCount()):
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Interactive)
            title = str(self._model.headerData(column, Qt.Orientation.Horizontal))
            letters = {"Allow": 7, "Pin": 6, "Changes": 9, "Taste": 16, "Cost": 6}.get(title, 10)
            self.table.setColumnWidth(column, letters * width)
        header.setSectionResizeMode(NAME, QHeaderView.ResizeMode.Stretch)

    def _lay_out(self) -> None:
        self._most.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self._most.setToolTip("How many swaps an answer may use")
        menu = QMenu(self)
        for most in (None, 0, 1, 2, 3, 4):
            words = "any number" if most is None else str(most)
            menu.addAction(words).triggered.connect(partial(_call, self._set_most, most))
        self._most.setMenu(menu)
        self._search.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        search = QMenu(self)
        search.aboutToShow.connect(self._fill_search)
        self._search.setMenu(search)
        self._progress.setMaximumWidth(120)
        self._progress.setTextVisible(False)
        self._progress.setRange(0, 100)
        self._searcher.progressed.connect(lambda part: self._progress.setValue(int(100 * part)))
        self._slow.timeout.connect(self._on_slow)
        self._cancel.clicked.connect(self._give_up)
        top = QHBoxLayout()
        self._kinds.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self._kinds.setToolTip("Which exchanges of the swap book to look at")
        kinds = QMenu(self)
        kinds.aboutToShow.connect(self._fill_kinds)
        self._kinds.setMenu(kinds)
        top.addWidget(self._most)
        top.addWidget(self._kinds)
        top.addStretch(1)
        for widget in (self._progress, self._cancel, self._search):
            top.addWidget(widget)
        self._progress.hide()
        self._cancel.hide()
        foot = named(QFrame(), "swap foot")
        below = QVBoxLayout(foot)
        below.setContentsMargins(12, 4, 12, 8)
        below.addWidget(self._about)
        below.addWidget(self._sentence)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(4)
        top.setContentsMargins(6, 0, 6, 0)
        layout.addLayout(top)
        layout.addWidget(self.table, 1)
        layout.addWidget(foot)


def _call(run: object, value: object, _checked: bool = False) -> None:
    run(value)  # type: ignore[operator]


def _kind_of(candidate: Candidate) -> str:
    return candidate.exchange.kind if candidate.exchange else ""


def _key(swap: Swap) -> object:
    return (swap.food, swap.stands_in_for)


def _named(name: str) -> str:
    """Write a food's name as a table of swaps has room for: its first two parts."""
    words = spoken(", ".join(name.split(", ")[:2]))
    return words[:1].upper() + words[1:]

"""Why a brief cannot be met, and one-press ways out; worked out when the handle rests."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QMenu, QVBoxLayout, QWidget

from reformulate import Conflict, Status, WayOut
from ui.phrases import in_a_row, plain_entry, sentence_case
from ui.session import Session
from ui.widgets import menu_button, muted_label, restyle, tool_button
from ui.work import Worker

REST = 150
"""The handle has to rest this long [ms]; while it moves, sentence and sliders say enough."""

MOST_WAYS = 3
"""Most ways out with a button of their own; the others are in a menu below them [count]."""

TIP = "Change this one wish, and everything else can be kept"
NO_WAY = "No change to one of them alone makes room for everything else."


class ConflictReason(QWidget):
    """The smallest set of wishes in conflict, with a button for each way out."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._optimum: object = None
        self._words = muted_label("", small=True, name="conflict")
        self._words.setWordWrap(True)
        self._others: list[WayOut] = []
        self._more = menu_button("more ways out", self._fill_more, tip=TIP)
        self._ways = QVBoxLayout()  # long buttons in one row would widen the window
        self._ways.setSpacing(3)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(4)
        layout.addWidget(self._words)
        layout.addLayout(self._ways)
        layout.addWidget(self._more, 0, Qt.AlignmentFlag.AlignLeft)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST)
        self._rest.timeout.connect(self._work_out)
        self._worker = Worker(self)
        self._worker.done.connect(self._show)
        session.answer_changed.connect(self._on_answer)
        self.hide()

    def _on_answer(self) -> None:
        answer = self._session.answer
        if answer is not None and answer.optimum is self._optimum:
            return  # the same brief, now in measured amounts
        self._optimum = answer.optimum if answer is not None else None
        self._worker.cancel()
        if answer is not None and answer.status is Status.CONFLICT:
            # What is shown belongs to the brief before; it stays in place, but cannot be pressed.
            self.setEnabled(False)
            self._rest.start()
        else:
            self._rest.stop()
            self.hide()

    def _work_out(self) -> None:
        self._worker.start(self._session.answers.work_on_conflict())

    def _show(self, found: object) -> None:
        if not isinstance(found, Conflict):
            self.hide()
            return
        members = in_a_row((member.words for member in found.members), whole=False)
        no_way = "" if found.ways_out else f" {NO_WAY}"
        self._words.setText(f"These alone cannot all be kept: {members}.{no_way}")
        while (item := self._ways.takeAt(0)) is not None:
            button = item.widget()
            if button:
                button.hide()
                button.deleteLater()
        ways = sorted(found.ways_out, key=_order)
        for way in ways[:MOST_WAYS]:
            button = tool_button(f"way out {way.words}", sentence_case(way.words))
            button.setToolTip(TIP)
            button.setProperty("way", True)
            button.clicked.connect(partial(self._take, way))
            self._ways.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        self._others = ways[MOST_WAYS:]
        self._more.setText(f"{len(self._others)} more ▾")
        self._more.setVisible(bool(self._others))
        self.setEnabled(True)
        self.show()
        restyle(self._words)

    def _fill_more(self, menu: QMenu) -> None:
        for way in self._others:
            menu.addAction(plain_entry(sentence_case(way.words)), partial(self._take, way))

    def _take(self, way: WayOut, _checked: bool = False) -> None:
        self._session.edit_brief(lambda _brief: way.brief, f"Way out: {way.words}")


def _order(way: WayOut) -> int:
    """Order ways out as a cook thinks of them: goals, swaps, what holds the dish, single lines."""
    member = way.member
    if member.goal is not None:
        return 0
    if member.max_swaps is not None:
        return 1
    return 3 if member.line is not None else 2

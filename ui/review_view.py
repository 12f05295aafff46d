"""What editors miss before print: each finding with why, how sure, and a one-click fix."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from reformulate import Batch, Document, Finding, review
from ui.phrases import plain_entry
from ui.session import Session
from ui.widgets import heading, muted_label, named, tool_button
from ui.work import Progress, Worker

REST = 200
"""After this long at rest the recipe is reviewed anew [ms]."""


class ReviewView(QScrollArea):
    """One card a finding, most serious first."""

    counted = Signal(int)
    """How many findings there are."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.setObjectName("review")
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self._session = session
        self._reviewed: Batch | None = None
        self.findings: tuple[Finding, ...] = ()
        self.worker = Worker(self)
        self.worker.done.connect(self._on_done)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST)
        self._rest.timeout.connect(self._review)
        self._heading = named(QLabel(), "review heading")
        self._heading.setWordWrap(True)
        self._list = QVBoxLayout()
        self._list.setSpacing(6)
        inner = QWidget()
        layout = QVBoxLayout(inner)
        layout.setContentsMargins(12, 6, 12, 8)
        layout.setSpacing(6)
        layout.addWidget(self._heading)
        layout.addLayout(self._list)
        layout.addStretch(1)
        self.setWidget(inner)
        session.answer_changed.connect(self._on_changed)
        session.current_changed.connect(self._on_changed)

    def showEvent(self, event: QShowEvent) -> None:
        """Review once it is looked at."""
        super().showEvent(event)
        self._on_changed()

    def _on_changed(self) -> None:
        if self.isVisible() and self._session.batch is not self._reviewed:
            self._rest.start()

    def _review(self) -> None:
        batch = self._session.batch
        if batch is None:
            self._heading.setText("The recipe has to be put right before it can be reviewed.")
            return
        foods, system = self._session.foods, self._session.system

        def work(_progress: Progress) -> object:
            return _Reviewed(batch, review(batch, foods, system))

        self.worker.start(work)

    def _on_done(self, result: object) -> None:
        if not isinstance(result, _Reviewed):
            return
        self._reviewed, self.findings = result.batch, result.findings
        while (item := self._list.takeAt(0)) is not None:
            if widget := item.widget():
                widget.hide()
                widget.deleteLater()
        for number, finding in enumerate(self.findings):
            self._list.addWidget(self._card(number, finding))
        count = len(self.findings)
        self._heading.setText(
            "Nothing to put right was found: amounts, steps, portions and printed figures agree."
            if not count
            else f"{count} thing{'s' if count > 1 else ''} to look at before print:"
        )
        self.counted.emit(count)

    def _card(self, number: int, finding: Finding) -> QFrame:
        card = named(QFrame(), "card")
        layout = QVBoxLayout(card)
        layout.setContentsMargins(12, 8, 12, 8)
        layout.setSpacing(3)
        top = QHBoxLayout()
        what = heading(finding.what, name=f"finding {number}")
        what.setWordWrap(True)
        what.setTextFormat(Qt.TextFormat.PlainText)
        top.addWidget(what, 1)
        top.addWidget(muted_label(finding.sureness, small=True), 0, Qt.AlignmentFlag.AlignTop)
        layout.addLayout(top)
        why = muted_label(finding.why)
        why.setWordWrap(True)
        why.setTextFormat(Qt.TextFormat.PlainText)
        layout.addWidget(why)
        if finding.fix is not None:
            button = tool_button(f"fix {number}", plain_entry(finding.fix.words))
            button.setProperty("way", True)
            button.clicked.connect(partial(self._fix, finding))
            layout.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        return card

    def _fix(self, finding: Finding) -> None:
        fix = finding.fix
        if fix is None:
            return

        def change(document: Document) -> Document:
            return replace(document, recipe=fix.apply(document.recipe))

        self._session.edit(change, fix.words)


class _Reviewed:
    """What was reviewed, and what was found."""

    def __init__(self, batch: Batch, findings: tuple[Finding, ...]) -> None:
        self.batch, self.findings = batch, findings

"""What is held: batch size, ratios and role masses, each with its tolerance."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QMenu,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from reformulate import (
    BadInput,
    BatchHold,
    Brief,
    CharacterHold,
    Hold,
    LineHold,
    Problem,
    RatioHold,
    RoleHold,
    group_words,
    subject_of,
)
from ui.phrases import sentence_case
from ui.session import Session
from ui.widgets import heading, muted_label, named, tool_button


class HoldsPanel(QWidget):
    """One row a hold; holds on single lines stand in the recipe table, those on taste in its view."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._shown: tuple[tuple[str, Hold], ...] = ()
        add = tool_button("add hold", "Add ▾")
        add.setToolTip("Hold something else")
        add.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self._menu = QMenu(add)
        self._menu.aboutToShow.connect(self._fill_menu)
        add.setMenu(self._menu)
        head = QHBoxLayout()
        head.addWidget(heading("Held", 1.15))
        head.addStretch(1)
        head.addWidget(add)
        self._panel = named(QFrame(), "panel")
        self._list = QVBoxLayout(self._panel)
        self._list.setContentsMargins(12, 4, 6, 4)
        self._list.setSpacing(0)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(6)
        layout.addLayout(head)
        layout.addWidget(self._panel)
        session.current_changed.connect(self._refresh)
        session.answer_changed.connect(self._refresh)

    def _refresh(self) -> None:
        document = self._session.document
        holds = document.brief.holds if document else ()
        names = self._names()
        shown = tuple(
            (hold_words(hold, names), hold)
            for hold in holds
            if not isinstance(hold, LineHold | CharacterHold)
        )
        if shown == self._shown:
            return
        self._shown = shown
        while (item := self._list.takeAt(0)) is not None:
            widget = item.widget()
            if widget:
                widget.hide()
                widget.deleteLater()
        for words, hold in shown:
            self._list.addWidget(_HoldRow(self._session, words, hold))
        if not shown:
            self._list.addWidget(muted_label("Nothing yet: any amount may go anywhere."))

    def _names(self) -> dict[str, str]:
        batch = self._session.batch
        if batch is None:
            return {}
        return {
            line.id: item.food.name.split(",")[0].lower()
            for line, item in zip(batch.recipe.lines, batch.ingredients, strict=True)
        }

    def _fill_menu(self) -> None:
        self._menu.clear()
        document = self._session.document
        if document is None:
            return
        lines, holds = document.recipe.lines, document.brief.holds
        names = self._names()
        roles = tuple(dict.fromkeys(line.role for line in lines))
        wanted: list[Hold] = [BatchHold()]
        if "base" in roles:
            wanted += [
                RatioHold(of=(f"role:{role}",), to=("role:base",))
                for role in roles
                if role != "base"
            ]
            wanted += [
                RatioHold(of=(line.id,), to=("role:base",)) for line in lines if line.role != "base"
            ]
        wanted += [RoleHold(role=role) for role in roles]
        for hold in wanted:
            if not any(subject_of(hold) == subject_of(old) for old in holds):
                self._menu.addAction(hold_words(hold, names), partial(self._add, hold))

    def _add(self, hold: Hold) -> None:
        self._session.edit_brief(
            lambda brief: replace(brief, holds=(*brief.holds, hold)), "Add hold"
        )


class _HoldRow(QWidget):
    """A hold in words, its tolerance to type in, and a button that lets it go."""

    def __init__(
        self, session: Session, words: str, hold: BatchHold | RatioHold | RoleHold | LineHold
    ) -> None:
        super().__init__()
        self._session, self._hold, self._words = session, hold, words
        label = QLabel(words)
        label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        label.setToolTip(words)
        self._tolerance = named(QLineEdit(_write(hold.tolerance or 0.0)), f"tolerance {words}")
        self._tolerance.setAlignment(Qt.AlignmentFlag.AlignRight)
        self._tolerance.setFixedWidth(
            self._tolerance.fontMetrics().horizontalAdvance("± 100.5 %") + 12
        )
        self._tolerance.setAccessibleName(f"Tolerance of {words}")
        self._tolerance.editingFinished.connect(self._on_typed)
        remove = tool_button(f"remove {words}", "×")
        remove.setProperty("quiet", True)
        remove.setToolTip(f"Let {words} go")
        remove.setAccessibleName(f"Remove hold on {words}")
        remove.clicked.connect(self._on_removed)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 2, 0, 2)
        layout.addWidget(label, 1)
        layout.addWidget(self._tolerance)
        layout.addWidget(remove)

    def _on_typed(self) -> None:
        text = self._tolerance.text()
        try:
            tolerance = float(text.strip(" ±%").replace(",", ".")) / 100.0
        except ValueError:
            self._tolerance.setText(_write(self._hold.tolerance or 0.0))
            self._session.refused.emit(
                BadInput(
                    Problem(self._words, f"found '{text}'.", "Write a tolerance such as ± 15 %.")
                )
            )
            return
        if not self._replace(replace(self._hold, tolerance=tolerance)):
            self._tolerance.setText(_write(self._hold.tolerance or 0.0))

    def _on_removed(self) -> None:
        old = self._hold

        def remove(brief: Brief) -> Brief:
            return replace(brief, holds=tuple(hold for hold in brief.holds if hold != old))

        self._session.edit_brief(remove, f"Let {self._words} go")

    def _replace(self, new: Hold) -> bool:
        old = self._hold

        def change(brief: Brief) -> Brief:
            return replace(brief, holds=tuple(new if hold == old else hold for hold in brief.holds))

        return self._session.edit_brief(change, f"Change tolerance of {self._words}")


def hold_words(hold: Hold, names: dict[str, str]) -> str:
    """Say what a hold keeps: ``batch size``, ``garlic : base``, ``salt mass``."""
    match hold:
        case BatchHold():
            words = "batch size"
        case RatioHold(of=of, to=to, ratio=ratio):
            words = f"{group_words(of, names)} : {group_words(to, names)}"
            words += "" if ratio is None else f" = {ratio:g}"
        case RoleHold(role=role):
            words = f"{role} mass"
        case LineHold(line=line):
            words = names.get(line, line)
        case CharacterHold(quality=quality):
            words = quality
    return sentence_case(words)


def _write(tolerance: float) -> str:
    return f"± {tolerance * 100:g} %"

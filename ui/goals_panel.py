"""What is wanted: one reach slider a nutrient, in the unit and the choice of the cook."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QSignalBlocker
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QHBoxLayout, QMenu, QToolButton, QVBoxLayout, QWidget

from reformulate import COST, NUTRIENTS, Per
from ui.goal_card import GoalCard
from ui.levels import levels_of
from ui.session import Session
from ui.theme import Theme
from ui.widgets import heading, tool_button

CHOICES = (*NUTRIENTS, COST)
"""What can have a goal here; taste and texture are held in their own view."""


class GoalsPanel(QWidget):
    """Goal cards for the nutrients shown."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()
        self._session, self._theme = session, theme
        self.cards: dict[str, GoalCard] = {}
        self._per = tool_button("shown per")
        self._per.setToolTip("What nutrients without a goal are shown per")
        self._per.clicked.connect(self._toggle_per)
        choose = tool_button("choose nutrients", "Choose ▾")
        choose.setToolTip("Choose the nutrients shown")
        choose.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self._menu = QMenu(choose)
        choose.setMenu(self._menu)
        self._actions = {kind.key: self._action(kind.key, kind.name) for kind in CHOICES}
        head = QHBoxLayout()
        head.addWidget(heading("Goals", 1.15))
        head.addStretch(1)
        head.addWidget(self._per)
        head.addWidget(choose)
        self._list = QVBoxLayout()
        self._list.setSpacing(5)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(6)
        layout.addLayout(head)
        layout.addLayout(self._list)
        session.answer_changed.connect(self._refresh)
        session.current_changed.connect(self._refresh)

    def _refresh(self) -> None:
        answer = self._session.answer
        if answer is None:
            self.setEnabled(False)
            return
        self.setEnabled(True)
        brief = answer.brief
        keys = tuple(dict.fromkeys((*brief.shown, *(goal.nutrient for goal in brief.goals))))
        if tuple(self.cards) != keys:
            self._rebuild(keys)
        for key, card in self.cards.items():
            card.show_levels(levels_of(answer, key, self._session.answers.headroom.get(key)))
        self._per.setText(
            "per 100 g ⇄" if brief.shown_per is Per.HUNDRED_GRAMS else "per serving ⇄"
        )
        for key, action in self._actions.items():
            with QSignalBlocker(action):
                action.setChecked(key in brief.shown)

    def _rebuild(self, keys: tuple[str, ...]) -> None:
        for key in [key for key in self.cards if key not in keys]:
            self.cards.pop(key).deleteLater()
        cards = {
            key: self.cards.get(key) or GoalCard(self._session, self._theme, key) for key in keys
        }
        for position, card in enumerate(cards.values()):
            self._list.insertWidget(position, card)
        self.cards = cards

    def _action(self, key: str, name: str) -> QAction:
        action = QAction(name, self._menu, checkable=True)
        action.toggled.connect(lambda on: self._choose(key, on=on))
        self._menu.addAction(action)
        return action

    def _choose(self, key: str, *, on: bool) -> None:
        order = [kind.key for kind in CHOICES]

        def change(shown: tuple[str, ...]) -> tuple[str, ...]:
            if not on:
                return tuple(k for k in shown if k != key)
            return (*shown, key) if key not in shown else shown

        verb = "Show" if on else "Hide"
        name = CHOICES[order.index(key)].name.lower()
        self._session.edit_brief(lambda b: replace(b, shown=change(b.shown)), f"{verb} {name}")

    def _toggle_per(self) -> None:
        def change(per: Per) -> Per:
            return Per.SERVING if per is Per.HUNDRED_GRAMS else Per.HUNDRED_GRAMS

        self._session.edit_brief(
            lambda b: replace(b, shown_per=change(b.shown_per)),
            "Change what nutrients are shown per",
        )

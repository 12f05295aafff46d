"""The state in one sentence, and the proof behind it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout

from reformulate import Answer, Certificate, Status, state_sentence, unknown_sentence
from ui.conflict_reason import ConflictReason
from ui.session import Session
from ui.widgets import muted_label, named, set_property, tool_button

FIRST = "Press on a bar at the right to ask for less or more of something."
"""What to do with a recipe that has no goals."""


class StateBar(QFrame):
    """Says how the answer stands; the certificate opens on demand."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.setObjectName("state")
        self._session = session
        self._mark = named(QLabel(), "state mark")
        self._sentence = named(QLabel(), "state sentence")
        self._sentence.setWordWrap(True)
        self._sentence.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self._sentence.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._proof = tool_button("proof", checkable=True)
        self._proof.setToolTip("Show how far the answer proves itself")
        self._detail = muted_label("", small=True, name="certificate")
        self._detail.setWordWrap(True)
        self._detail.hide()
        self._proof.toggled.connect(self._detail.setVisible)
        self.reason = ConflictReason(session)
        top = QHBoxLayout()
        top.setSpacing(8)
        top.addWidget(self._mark)
        top.addWidget(self._sentence, 1)
        top.addWidget(self._proof)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(14, 8, 8, 8)
        layout.setSpacing(4)
        layout.addLayout(top)
        layout.addWidget(self._detail)
        layout.addWidget(self.reason)
        session.answer_changed.connect(self._refresh)
        session.current_changed.connect(self._refresh)

    @property
    def sentence(self) -> str:
        """What is said."""
        return self._sentence.text()

    def _refresh(self) -> None:
        answer = self._session.answer
        if answer is None:
            words = "\n".join(str(problem) for problem in self._session.problems)
            self._say("bad", "!", words or "Open a set to begin.")
            self._proof.hide()
            self._detail.setText("")
            return
        met = answer.status is Status.OPTIMAL
        state = "calm" if met and not answer.goals else "good" if met else "bad"
        first = "" if answer.goals else FIRST
        sentence = " ".join(filter(None, [state_sentence(answer), first, unknown_sentence(answer)]))
        self._say(state, {"good": "✓", "bad": "!", "calm": "·"}[state], sentence)
        self._proof.show()
        self._proof.setText("proven" if answer.certificate.holds else "not proven")
        self._detail.setText(certificate_words(answer))

    def _say(self, state: str, mark: str, sentence: str) -> None:
        set_property(self, "state", state)
        for label in (self._mark, self._sentence, self._detail):
            set_property(label, "state", state)
        self._mark.setText(mark)
        self._sentence.setText(sentence)


def certificate_words(answer: Answer) -> str:
    """Say what the certificate shows, in figures."""
    c: Certificate = answer.certificate
    nearest = "" if answer.optimum.relaxed is None else " for the nearest limits"
    return (
        f"No amounts closer to the original can do it{nearest}: limits kept within {c.primal:.0e}, "
        f"prices within {c.dual:.0e}, gap between cost and proven bound {c.gap:.0e}. "
        "Computed from the model, not taken from the solver."
        f"{measured_words(answer)}"
    )


def measured_words(answer: Answer) -> str:
    """Say how the measured amounts stand to that optimum; empty where grams are shown."""
    if answer.measured is None:
        return ""
    found = "proven" if answer.measured.proven else "found in the time there is"
    return (
        f" The measured amounts are the nearest to it that spoons, cups and scales give: {found}."
    )

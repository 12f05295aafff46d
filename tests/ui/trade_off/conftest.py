"""A person at the trade-off view of a recipe, and curves that take as long as a test wants."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from threading import Event

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QComboBox

import ui.trade_off_view
from reformulate import Stopped, TradeOff, trade_off
from tests.ui.conftest import Person
from ui.phrases import NO_BREAK
from ui.trade_off_plot import TradeOffPlot
from ui.trade_off_view import TradeOffView


class Cook:
    """A person at the trade-off view of a recipe."""

    def __init__(self, person: Person, words: str = "spinach") -> None:
        self.person, self.qtbot = person, person.qtbot
        person.choose(words)
        found = person.window.page.findChild(TradeOffView)
        assert isinstance(found, TradeOffView)
        self.view = found

    def open(self) -> None:
        self.person.click("view trade-offs")
        self.wait()

    def wait(self) -> None:
        """Until the curve on screen is that of the brief on screen."""
        self.qtbot.waitUntil(lambda: self.view.is_current)

    @property
    def curve(self) -> TradeOff:
        curve = self.view._curve
        assert curve is not None
        return curve

    @property
    def plot(self) -> TradeOffPlot:
        assert self.view.pages.plot is not None
        return self.view.pages.plot

    def place(self, point: int) -> QPoint:
        at = self.curve.points[point]
        return self.plot.place_of((at.first, at.second))

    def lone(self) -> int:
        """A corner that no other is so near to that a click could mean it."""
        places = [self.place(number) for number in range(len(self.curve.points))]

        def room(number: int) -> float:
            others = [at for i, at in enumerate(places) if i != number]
            return min((places[number] - at).manhattanLength() for at in others)

        return max(range(1, len(places) - 1), key=room)

    def click(self, point: int) -> None:
        viewport = self.plot.view.viewport()
        self.qtbot.mouseClick(viewport, Qt.MouseButton.LeftButton, pos=self.place(point))

    def key(self, name: str) -> None:
        self.plot.view.setFocus()
        self.qtbot.keyClick(self.plot.view, getattr(Qt.Key, f"Key_{name}"))

    def choose(self, side: str, words: str) -> None:
        """Choose a quantity by the keyboard."""
        box = self.person.find(QComboBox, f"trade-off {side}")
        assert isinstance(box, QComboBox)
        at = next(i for i in range(box.count()) if box.itemText(i) == words)
        box.setFocus()
        box.setCurrentIndex(at)
        box.activated.emit(at)

    def row(self, name: str) -> int:
        model = self.view.pages.table.model()
        return next(r for r in range(model.rowCount()) if model.index(r, 0).data().startswith(name))

    def cells(self, row: int) -> list[str]:
        model = self.view.pages.table.model()
        return [model.index(row, column).data() for column in range(3)]

    def text(self, name: str) -> str:
        return self.person.label(f"trade-off {name}").replace(NO_BREAK, " ")


@pytest.fixture
def cook(person: Person) -> Cook:
    return Cook(person)


@dataclass
class Slow:
    """Curves that are not worked out before they are let through, each by its first quantity."""

    gates: dict[str, Event] = field(default_factory=dict)
    begun: list[str] = field(default_factory=list)
    stopped: list[str] = field(default_factory=list)
    is_deaf: bool = False
    """Whether it goes on to the end though nobody waits for it any more."""

    def __call__(
        self,
        *args: object,
        progress: Callable[[float], bool],
        **options: object,
    ) -> TradeOff:
        first = str(args[3])
        gate = self.gates.setdefault(first, Event())
        self.begun.append(first)
        while not gate.wait(0.005):
            if not self.is_deaf and not progress(0.4):
                self.stopped.append(first)
                raise Stopped("Given up.")
        go_on = (lambda _: True) if self.is_deaf else progress
        return trade_off(*args, progress=go_on, **options)  # type: ignore[arg-type]


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch) -> Iterator[Slow]:
    found = Slow()
    monkeypatch.setattr(ui.trade_off_view, "trade_off", found)
    yield found
    for gate in found.gates.values():
        gate.set()

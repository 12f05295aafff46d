"""The reach slider alone: which handle a press takes, where keys and pointer move it, where it stops."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from ui.reach_slider import ReachSlider, SliderState
from ui.theme import Theme

STATE = SliderState(
    top=250.0,
    step=1.0,
    reach_low=97.3,
    reach_high=180.6,
    original=200.0,
    achieved=150.0,
)
Moves = list[tuple[str, float]]


class Hand:
    """A hand at a slider that shows each move at once, as the window does."""

    def __init__(self, qtbot: QtBot, state: SliderState) -> None:
        self.qtbot = qtbot
        self.slider = ReachSlider(Theme())
        qtbot.addWidget(self.slider)
        self.slider.resize(518, 24)  # 2 px a unit
        self.slider.set_state(state)
        self.moves: Moves = []
        self.slider.moved.connect(self._show)
        with qtbot.waitExposed(self.slider):
            self.slider.show()

    def _show(self, side: str, value: float) -> None:
        self.moves.append((side, value))
        self.slider.set_state(replace(self.slider.state, **{side: value}))  # type: ignore[arg-type]

    def key(
        self,
        name: str,
        modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier,
    ) -> None:
        self.qtbot.keyClick(self.slider, getattr(Qt.Key, f"Key_{name}"), modifier)

    def press(self, value: float) -> None:
        at = QPoint(round(self.slider.x_of(value)), 12)
        self.qtbot.mousePress(self.slider, Qt.MouseButton.LeftButton, pos=at)

    def let_go(self, value: float) -> None:
        at = QPoint(round(self.slider.x_of(value)), 12)
        self.qtbot.mouseRelease(self.slider, Qt.MouseButton.LeftButton, pos=at)


@pytest.fixture
def hand(qtbot: QtBot) -> Callable[..., Hand]:
    return lambda **changes: Hand(qtbot, replace(STATE, **changes))


@pytest.mark.parametrize(
    ("at", "side"), [(120.0, "at_most"), (150.0, "at_most"), (170.0, "at_least")]
)
def test_a_first_press_asks_for_what_lies_on_the_way_from_what_is_achieved(
    hand: Callable[..., Hand], at: float, side: str
) -> None:
    found = hand()
    found.press(at)
    assert found.moves == [(side, at)]


@pytest.mark.parametrize(
    ("at", "side"), [(90.0, "at_least"), (128.0, "at_least"), (132.0, "at_most")]
)
def test_of_two_handles_the_nearer_is_taken(
    hand: Callable[..., Hand], at: float, side: str
) -> None:
    found = hand(at_least=100.0, at_most=160.0)
    found.press(at)
    assert found.moves == [(side, at)]


def test_one_handle_is_taken_wherever_the_groove_is_pressed(hand: Callable[..., Hand]) -> None:
    found = hand(at_least=100.0)
    found.press(20.0)
    found.let_go(20.0)
    found.press(200.0)
    assert found.moves == [("at_least", 20.0), ("at_least", 200.0)]


def test_handles_do_not_pass_each_other(hand: Callable[..., Hand]) -> None:
    found = hand(at_least=100.0, at_most=160.0)
    found.press(105.0)
    at = QPoint(round(found.slider.x_of(190.0)), 12)
    found.qtbot.mouseMove(found.slider, at)
    found.let_go(190.0)
    assert found.moves[-1] == ("at_least", 160.0)


def test_space_goes_from_one_handle_to_the_other(hand: Callable[..., Hand]) -> None:
    found = hand(at_least=100.0, at_most=160.0)
    for key in ("Left", "Space", "Left", "Space", "Right"):
        found.key(key)
    assert found.moves == [("at_most", 159.0), ("at_least", 99.0), ("at_most", 160.0)]


@pytest.mark.parametrize(
    ("key", "modifier", "to"),
    [
        ("Left", Qt.KeyboardModifier.NoModifier, 149.0),
        ("Up", Qt.KeyboardModifier.NoModifier, 151.0),
        ("Right", Qt.KeyboardModifier.ShiftModifier, 160.0),
        ("PageDown", Qt.KeyboardModifier.NoModifier, 140.0),
        ("PageUp", Qt.KeyboardModifier.ShiftModifier, 250.0),
        # To the whole steps that still lie in the reach of 97.3 to 180.6.
        ("Home", Qt.KeyboardModifier.NoModifier, 98.0),
        ("End", Qt.KeyboardModifier.NoModifier, 180.0),
    ],
)
def test_keys_move_by_a_step_by_ten_or_to_the_ends_of_the_reach(
    hand: Callable[..., Hand], key: str, modifier: Qt.KeyboardModifier, to: float
) -> None:
    found = hand(at_most=150.0)
    found.key(key, modifier)
    assert found.moves == [("at_most", to)]


def test_a_reach_without_end_has_no_end_to_go_to(hand: Callable[..., Hand]) -> None:
    found = hand(at_most=150.0, reach_high=float("inf"))
    found.key("End")
    assert found.moves == []


@pytest.mark.parametrize(("key", "side", "to"), [("Left", "at_most", 149), ("Up", "at_least", 151)])
def test_a_first_key_asks_for_less_or_for_more_than_is_achieved(
    hand: Callable[..., Hand], key: str, side: str, to: float
) -> None:
    found = hand()
    found.key(key)
    assert found.moves == [(side, to)]


@pytest.mark.parametrize("key", ["Delete", "Backspace"])
def test_delete_asks_for_no_goal_any_more(hand: Callable[..., Hand], key: str) -> None:
    found = hand(at_most=150.0)
    with found.qtbot.waitSignal(found.slider.cleared):
        found.key(key)
    assert found.moves == []


def test_a_handle_stays_on_the_groove(hand: Callable[..., Hand]) -> None:
    found = hand(at_most=5.0)
    found.key("PageDown")
    found.key("Left")
    assert found.moves == [("at_most", 0.0)]


@pytest.mark.parametrize(
    ("at_most", "is_out"), [(96.0, True), (96.79, True), (96.81, False), (97.3, False)]
)
def test_a_limit_is_out_of_reach_by_more_than_half_a_step(at_most: float, is_out: bool) -> None:
    assert replace(STATE, at_most=at_most).out_of_reach("at_most") is is_out
    mirrored = replace(STATE, at_least=STATE.reach_high + STATE.reach_low - at_most)
    assert mirrored.out_of_reach("at_least") is is_out

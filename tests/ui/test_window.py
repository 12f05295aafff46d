"""The window itself: readable, reachable by keyboard, in both schemes and in larger text."""

from __future__ import annotations

import sys

import pytest
from PySide6.QtCore import QAbstractTableModel, QModelIndex, Qt
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QApplication, QLabel, QToolButton, QWidget

from reformulate import NUTRIENTS
from tests.ui.conftest import Person
from ui.reach_slider import ReachSlider
from ui.theme import DARK, LIGHT


def test_the_binding_keeps_its_count_of_none() -> None:
    """PySide6 6.12.0 loses a reference to None for each one Python returns, until Python aborts."""

    class Empty(QAbstractTableModel):
        def rowCount(self, _parent: QModelIndex | None = None) -> int:
            return 1

        def columnCount(self, _parent: QModelIndex | None = None) -> int:
            return 1

        def data(self, _index: QModelIndex, _role: int = 0) -> None:
            return None

    model = Empty()
    index = model.index(0, 0)
    before = sys.getrefcount(None)
    for _ in range(500):
        index.data(0)
    assert abs(sys.getrefcount(None) - before) < 250


def expect_room(person: Person, labels: list[QLabel]) -> None:
    """Every label has the width its text asks for, once the layout has settled."""

    def all_fit() -> None:
        clipped = [
            label.text()
            for label in labels
            if label.isVisible() and label.width() < label.sizeHint().width()
        ]
        assert not clipped

    person.qtbot.waitUntil(all_fit)


@pytest.mark.parametrize("words", ["spinach", "trout", "walnut", "crab", "pumpkin"])
@pytest.mark.parametrize("width", [1280, 1920])
def test_no_label_is_clipped(person: Person, words: str, width: int) -> None:
    person.window.resize(width, 800)
    person.choose(words)
    labels = [person.find(QLabel, name) for name in ("recipe title", "portion")]
    for card in person.window.goals.cards.values():
        labels += card.findChildren(QLabel)
    expect_room(person, labels)


def test_the_figures_of_a_goal_stay_readable_in_every_unit(person: Person) -> None:
    person.choose("spinach")
    card = person.window.goals.cards["protein_g"]
    for words in ("per serving", "per 100 g", "share of the energy", "against the original"):
        action = next(a for a in card._mode.menu().actions() if a.text() == words)
        action.trigger()
        assert person.session.answer.brief.goal_on("protein_g") is not None  # type: ignore[union-attr]
        expect_room(person, card.findChildren(QLabel))


def test_a_goal_in_another_unit_asks_the_same_of_the_original(person: Person) -> None:
    person.choose("trout")
    card = person.window.goals.cards["protein_g"]
    action = next(a for a in card._mode.menu().actions() if a.text() == "against the original")
    action.trigger()
    assert person.field("at_least protein_g").text() == "121"  # 10.5 of 8.7 g, whole per cent
    assert person.label("original protein_g") == "of the original"


def test_between_has_two_handles(person: Person) -> None:
    person.choose("crab")
    card = person.window.goals.cards["protein_g"]
    next(a for a in card._mode.menu().actions() if a.text() == "Between").trigger()
    assert person.field("at_least protein_g").isVisible()
    assert person.field("at_most protein_g").isVisible()
    state = person.slider("protein_g").state
    assert state.at_least is not None
    assert state.at_most is not None
    person.slider("protein_g").setFocus()
    person.press("Right", "protein_g")
    person.press("Space", "protein_g")
    person.press("Left", "protein_g")
    moved = person.slider("protein_g").state
    assert moved.at_most == pytest.approx(state.at_most + 0.1)
    assert moved.at_least == pytest.approx(state.at_least - 0.1)


def test_nutrients_shown_are_chosen(person: Person) -> None:
    person.choose("crab")
    panel = person.window.goals
    panel._actions["calcium_mg"].trigger()
    assert list(panel.cards)[-1] == "calcium_mg"
    panel._actions["sugars_g"].trigger()
    assert "sugars_g" not in panel.cards
    person.click("shown per")
    assert person.label("original energy_kcal").startswith("per 100 g · original")


def test_every_slider_field_and_button_is_reached_by_tab(person: Person) -> None:
    person.choose("spinach")
    person.window.activateWindow()
    person.window.page.table.setFocus()
    reached: set[str] = set()
    for _ in range(200):
        focus = QApplication.focusWidget()
        if focus is None or focus.objectName() in reached:
            break
        reached.add(focus.objectName())
        person.qtbot.keyClick(focus, Qt.Key.Key_Tab)
    wanted = {f"slider {key}" for key in person.window.goals.cards}
    wanted |= {"recipe table", "add line", "allow swap", "servings", "choose nutrients", "add hold"}
    wanted |= {"recipe list", "tolerance Batch size", "remove Batch size", "mode energy_kcal"}
    assert wanted <= reached


def test_what_has_no_text_has_a_name_to_be_read_out(person: Person) -> None:
    person.choose("spinach")
    for slider in person.window.findChildren(ReachSlider):
        assert slider.accessibleName()
        assert "reach" in slider.accessibleDescription()
    for button in person.window.findChildren(QToolButton):
        if button.isVisible():
            assert button.text() or button.accessibleName(), button.objectName()


def test_light_and_dark_are_chosen_and_remembered(person: Person) -> None:
    person.window.change_setting(theme="dark")
    assert person.window._theme.colours is DARK
    assert person.window._store.value("theme") == "dark"
    person.window.change_setting(theme="light")
    assert person.window._theme.colours is LIGHT


@pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=["light", "dark"])
def test_text_stands_out_from_its_ground(scheme: object) -> None:
    """Contrast of 4.5 to 1 or more: WCAG 2.1, success criterion 1.4.3 (from memory)."""
    for text, ground in (
        ("text", "surface"),
        ("text", "window"),
        ("muted", "surface"),
        ("muted", "window"),
        ("accent", "surface"),
        ("good", "good_soft"),
        ("bad", "bad_soft"),
        ("bad", "surface"),
        ("text", "selected"),
    ):
        light, dark = sorted(
            (_luminance(getattr(scheme, text)), _luminance(getattr(scheme, ground))), reverse=True
        )
        assert (light + 0.05) / (dark + 0.05) >= 4.5, (text, ground)


def _luminance(colour: str) -> float:
    """Relative luminance of sRGB: WCAG 2.1 (from memory)."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_larger_text_takes_effect_at_once(person: Person, qapp: QApplication) -> None:
    small = qapp.font().pointSizeF()
    person.window.change_setting(text_size=130)
    try:
        assert qapp.font().pointSizeF() == pytest.approx(small * 1.3, rel=0.01)
        assert person.label("recipe title") == person.session.document.recipe.title  # type: ignore[union-attr]
    finally:
        person.window.change_setting(text_size=100)
    assert qapp.font().pointSizeF() == pytest.approx(small, rel=0.01)


def test_unknown_stays_unknown_to_the_screen(person: Person) -> None:
    person.choose("trout")
    assert person.label("achieved sugars_g").startswith("at least")
    tip = person.find(QLabel, "achieved sugars_g").toolTip()
    assert tip.startswith("Not known for: ")
    person.click("view nutrients")
    view: QWidget = person.window.page.pages.currentWidget()
    table = view.table.model()  # type: ignore[attr-defined]
    row = next(i for i, kind in enumerate(NUTRIENTS) if kind.key == "sugars_g")
    assert table.index(row, 2).data().startswith("at least")
    assert "By 4 kcal a gram" in person.label("energy check")


def test_the_tables_keep_qts_rules(person: Person) -> None:
    # A warning fails the test, and says more than an abort.
    strict = QAbstractItemModelTester.FailureReportingMode.Warning
    testers = [
        QAbstractItemModelTester(person.table, strict),
        QAbstractItemModelTester(person.window.sidebar.view.model(), strict),
    ]
    person.choose("walnut")
    person.choose("spinach")
    person.drag("energy_kcal", [145, 130, 100])
    person.session.undo_stack.undo()
    del testers


def test_the_certificate_opens_on_demand(person: Person) -> None:
    person.choose("spinach")
    detail = person.find(QLabel, "certificate")
    assert not detail.isVisible()
    assert person.find(QToolButton, "proof").text() == "proven"  # type: ignore[attr-defined]
    person.click("proof")
    assert detail.isVisible()
    assert "not taken from the solver" in person.label("certificate")


def test_a_recipe_without_goals_says_how_to_ask_for_something(person: Person) -> None:
    person.choose("onion")
    assert "Press on a bar at the right" in person.sentence
    slider = person.window.goals.cards["energy_kcal"].slider
    middle = slider.rect().center()
    person.qtbot.mouseClick(slider, Qt.MouseButton.LeftButton, pos=middle)
    document = person.session.document
    assert document
    assert document.brief.goal_on("energy_kcal") is not None
    assert "Press on a bar" not in person.sentence

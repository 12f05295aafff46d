"""Colours and the one style sheet, light and dark."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication


@dataclass(frozen=True, slots=True, kw_only=True)
class Colours:
    """What each colour is for. Hues: M. Okabe and K. Ito, Color universal design (2008).

    That palette stays apart for colour-blind readers; colour is never the only sign. Light-on-dark
    and dark-on-light tints of its hues are our own.
    """

    window: str
    surface: str
    line: str
    text: str
    muted: str
    accent: str
    accent_soft: str
    track: str
    more: str
    less: str
    selected: str
    good: str
    good_soft: str
    bad: str
    bad_soft: str


LIGHT: Final = Colours(
    window="#f5f6f8",
    surface="#ffffff",
    line="#e2e6eb",
    text="#1b2430",
    muted="#586373",
    accent="#0072b2",
    accent_soft="#9fcbe6",
    track="#e8ebef",
    more="#009e73",
    less="#e69f00",
    selected="#e4f0f8",
    good="#0b5d45",
    good_soft="#e6f4ee",
    bad="#a03e00",
    bad_soft="#fcece2",
)

DARK: Final = Colours(
    window="#14181d",
    surface="#1c2229",
    line="#303842",
    text="#e8ecf1",
    muted="#a3aebb",
    accent="#56b4e9",
    accent_soft="#2c6285",
    track="#2d353e",
    more="#2bb38a",
    less="#e69f00",
    selected="#22384a",
    good="#7fdcbf",
    good_soft="#18332b",
    bad="#ffb48a",
    bad_soft="#40281b",
)


class Theme(QObject):
    """The colours in force; widgets repaint when they change."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.choice = "system"
        self.colours = LIGHT
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._on_system_changed)

    def choose(self, choice: str) -> None:
        """Use ``light``, ``dark``, or ``system``."""
        self.choice = choice
        hints = QGuiApplication.styleHints()
        dark = choice == "dark" or (
            choice == "system" and hints.colorScheme() is Qt.ColorScheme.Dark
        )
        self.colours = DARK if dark else LIGHT
        application = QApplication.instance()
        if isinstance(application, QApplication):
            application.setPalette(_palette(self.colours))
            application.setStyleSheet(_style_sheet(self.colours))
        self.changed.emit()

    def colour(self, name: str) -> QColor:
        """Return a colour by what it is for."""
        return QColor(getattr(self.colours, name))

    def _on_system_changed(self) -> None:
        if self.choice == "system":
            self.choose("system")


def _palette(c: Colours) -> QPalette:
    palette = QPalette()
    role = QPalette.ColorRole
    for name, value in (
        (role.Window, c.window),
        (role.Base, c.surface),
        (role.AlternateBase, c.window),
        (role.Text, c.text),
        (role.WindowText, c.text),
        (role.Button, c.surface),
        (role.ButtonText, c.text),
        (role.Highlight, c.selected),
        (role.HighlightedText, c.text),
        (role.PlaceholderText, c.muted),
        (role.ToolTipBase, c.surface),
        (role.ToolTipText, c.text),
        (role.Link, c.accent),
        (role.Mid, c.line),
    ):
        palette.setColor(name, QColor(value))
    disabled = QPalette.ColorGroup.Disabled
    for name in (role.Text, role.WindowText, role.ButtonText):
        palette.setColor(disabled, name, QColor(c.muted))
    return palette


def _style_sheet(c: Colours) -> str:
    return f"""
    QMainWindow, QDialog {{ background: {c.window}; }}
    QMenuBar {{ background: {c.surface}; border-bottom: 1px solid {c.line}; padding: 3px 8px; }}
    QMenuBar::item {{ padding: 4px 10px; border-radius: 4px; background: transparent; color: {c.text}; }}
    QMenuBar::item:selected {{ background: {c.selected}; }}
    QMenu {{ background: {c.surface}; border: 1px solid {c.line}; padding: 4px; color: {c.text}; }}
    QMenu::item {{ padding: 5px 24px 5px 22px; border-radius: 4px; }}
    QMenu::item:selected {{ background: {c.selected}; }}
    QMenu::item:disabled {{ color: {c.muted}; }}
    QMenu::separator {{ height: 1px; background: {c.line}; margin: 4px 6px; }}
    QMenu::indicator {{ width: 12px; height: 12px; left: 6px; }}
    QToolTip {{ background: {c.surface}; color: {c.text}; border: 1px solid {c.line}; padding: 4px; }}
    QFrame#card, QFrame#panel {{ background: {c.surface}; border: 1px solid {c.line};
        border-radius: 8px; }}
    QWidget#sidebar {{ background: {c.surface}; border-right: 1px solid {c.line}; }}
    QLabel {{ background: transparent; }}
    QLabel[muted="true"] {{ color: {c.muted}; }}
    QLabel[bad="true"] {{ color: {c.bad}; }}
    QFrame#state[state="good"] {{ background: {c.good_soft}; border-radius: 8px; }}
    QFrame#state[state="good"] QLabel {{ color: {c.good}; }}
    QFrame#state[state="bad"] {{ background: {c.bad_soft}; border-radius: 8px; }}
    QFrame#state[state="bad"] QLabel {{ color: {c.bad}; }}
    QFrame#state[state="calm"] {{ background: {c.track}; border-radius: 8px; }}
    QListView, QTableView {{ background: {c.surface}; border: none; outline: none;
        selection-background-color: {c.selected}; selection-color: {c.text}; }}
    QTableView#nutrients::item {{ padding: 0 10px; border-bottom: 1px solid {c.line}; }}
    QTableView::indicator {{ width: 12px; height: 12px; border: 1px solid {c.muted}; border-radius: 3px;
        background: {c.surface}; }}
    QTableView::indicator:checked {{ background: {c.accent}; border: 1px solid {c.accent}; }}
    QHeaderView {{ background: transparent; border: none; }}
    QHeaderView::section {{ background: {c.surface}; color: {c.muted}; border: none;
        border-bottom: 1px solid {c.line}; padding: 7px 10px; }}
    QScrollArea {{ background: transparent; border: none; }}
    QScrollArea > QWidget > QWidget {{ background: transparent; }}
    QScrollBar:vertical {{ background: transparent; width: 10px; margin: 0; }}
    QScrollBar::handle:vertical {{ background: {c.line}; border-radius: 4px;
        min-height: 32px; margin: 1px; }}
    QScrollBar::handle:vertical:hover {{ background: {c.muted}; }}
    QScrollBar::add-line, QScrollBar::sub-line {{ height: 0; width: 0; }}
    QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
    QToolButton, QPushButton {{ background: transparent; border: 1px solid transparent; border-radius: 4px;
        padding: 2px 7px; color: {c.accent}; }}
    QToolButton:hover, QPushButton:hover {{ background: {c.selected}; }}
    QToolButton:focus, QPushButton:focus {{ border: 1px solid {c.accent}; }}
    QToolButton:checked {{ background: {c.selected}; }}
    QToolButton:disabled, QPushButton:disabled {{ color: {c.muted}; background: transparent; }}
    QToolButton::menu-indicator {{ image: none; width: 0; }}
    QToolButton[way="true"] {{ background: {c.surface}; border: 1px solid {c.line}; padding: 3px 9px; }}
    QToolButton[quiet="true"] {{ color: {c.muted}; }}
    QPushButton[primary="true"] {{ background: {c.accent}; color: {c.surface}; padding: 5px 14px; }}
    QLineEdit {{ background: {c.surface}; border: 1px solid {c.line}; border-radius: 4px; padding: 1px 5px;
        color: {c.text}; selection-background-color: {c.accent}; selection-color: {c.surface}; }}
    QComboBox {{ background: {c.surface}; border: 1px solid {c.line}; border-radius: 4px; padding: 2px 7px;
        color: {c.text}; }}
    QComboBox:focus, QComboBox:hover {{ border: 1px solid {c.accent}; }}
    QComboBox::drop-down {{ border: none; width: 20px; }}
    QComboBox QAbstractItemView {{ background: {c.surface}; border: 1px solid {c.line}; }}
    QLineEdit:focus {{ border: 1px solid {c.accent}; }}
    """

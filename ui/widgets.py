"""Small helpers the panels share."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from PySide6.QtGui import QFont
from PySide6.QtWidgets import QLabel, QMenu, QToolButton, QWidget

AnyWidget = TypeVar("AnyWidget", bound=QWidget)
AnyLabel = TypeVar("AnyLabel", bound=QLabel)

SMALL = 0.86
"""Small print, relative to the text size the user chose [1]."""


def muted_label(text: str, *, small: bool = False, name: str = "") -> QLabel:
    """Return a label in the quiet colour."""
    label = named(QLabel(text), name)
    label.setProperty("muted", True)
    if small:
        label.setFont(scaled_font(label.font(), SMALL))
    return label


def heading(text: str, factor: float = 1.0, *, name: str = "") -> QLabel:
    """Return a bold label, ``factor`` times the text size."""
    return as_heading(named(QLabel(text), name), factor)


def as_heading(label: AnyLabel, factor: float = 1.0) -> AnyLabel:
    """Make a label bold, ``factor`` times the text size."""
    font = scaled_font(label.font(), factor)
    font.setBold(True)
    label.setFont(font)
    return label


def scaled_font(font: QFont, factor: float) -> QFont:
    """Return ``font`` at ``factor`` times its size."""
    scaled = QFont(font)
    scaled.setPointSizeF(font.pointSizeF() * factor)
    return scaled


def set_property(widget: QWidget, name: str, value: object) -> None:
    """Set a property the style sheet looks at, and restyle only if it changed."""
    if widget.property(name) == value:
        return
    widget.setProperty(name, value)
    restyle(widget)


def restyle(widget: QWidget) -> None:
    """Let the style sheet look at a widget again, after a property of it or of its frame changed."""
    widget.style().unpolish(widget)
    widget.style().polish(widget)


def named(widget: AnyWidget, name: str) -> AnyWidget:
    """Give a widget the name that tests and style sheets find it by."""
    widget.setObjectName(name)
    return widget


def tool_button(name: str, text: str = "", *, checkable: bool = False) -> QToolButton:
    """Return a flat button."""
    button = named(QToolButton(), name)
    button.setText(text)
    button.setCheckable(checkable)
    return button


def menu_button(
    name: str, fill: Callable[[QMenu], None], *, text: str = "", tip: str = ""
) -> QToolButton:
    """Return a flat button with a menu that ``fill`` fills anew each time it opens."""
    button = tool_button(name, text)
    button.setToolTip(tip)
    button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
    menu = QMenu(button)

    def open_anew() -> None:
        menu.clear()
        fill(menu)

    menu.aboutToShow.connect(open_anew)
    button.setMenu(menu)
    return button

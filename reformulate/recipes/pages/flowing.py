"""The text a reader of a page sees, line by line."""

from __future__ import annotations

import re
from typing import Final

from reformulate.recipes.pages.elements import BLOCKS, Element
from reformulate.recipes.pages.markup import words

MOST_NODES: Final = 20_000
"""Most elements and texts gone through for one text of the data [count]."""

_UNSEEN: Final = words(
    "script style template noscript head title svg math canvas iframe object embed audio video map "
    "select textarea button input datalist nav noembed noframes"
)
"""What is not text, or belongs to the page and not to what it says: menus and controls."""
_APART: Final = words("p h1 h2 h3 h4 h5 h6 ul ol dl table section article pre blockquote")
"""Blocks with an empty line before and after."""
_CELLS: Final = frozenset({"td", "th"})
_BETWEEN_CELLS: Final = " "
_SPACE = re.compile(r"[ \t\n\f\r]+")
_HIDING = re.compile(r"display\s{0,9}:\s{0,9}none", re.IGNORECASE)


class _Lines:
    def __init__(self, *, keep_breaks: bool) -> None:
        self.done: list[str] = []
        self.row: list[str] = []
        self.keep_breaks = keep_breaks
        self.raised = False

    def say(self, text: str) -> None:
        if self.keep_breaks:
            *rows, text = text.split("\n")
            for row in rows:
                self._add(row)
                self.end_line()
        self._add(text)

    def _add(self, text: str) -> None:
        text = _SPACE.sub(" ", text)
        if not text:
            return
        # "1<sup>1</sup>/<sub>2</sub>" is one and a half, not eleven halves.
        if self.raised and text[0].isdigit() and self.row and self.row[-1][-1].isdigit():
            self.row.append(" ")
        self.raised = False
        self.row.append(text)

    def end_line(self) -> None:
        line = _SPACE.sub(" ", "".join(self.row)).strip()
        self.row.clear()
        if line:
            self.done.append(line)

    def end_block(self) -> None:
        self.end_line()
        if self.done and self.done[-1]:
            self.done.append("")


def lines_of(
    root: Element, *, keep_breaks: bool = False, most_nodes: int = MOST_NODES
) -> list[str]:
    """Return what is seen of an element.

    Parameters
    ----------
    root
        The element; scripts, styles, menus and controls within it are left out.
    keep_breaks
        Whether a line end of the file ends a line, as it does in preformatted text.
    most_nodes
        Most elements and texts gone through [count]; what follows is left out.

    Returns
    -------
    list of str
        Lines without white space around them; "" between blocks set apart.
    """
    lines = _Lines(keep_breaks=keep_breaks)
    waiting: list[Element | str | tuple[Element, bool]] = [root]
    for _ in range(most_nodes):
        if not waiting:
            break
        node = waiting.pop()
        match node:
            case str():
                lines.say(node)
            case Element():
                if _is_unseen(node) and node is not root:
                    continue
                waiting.append((node, lines.keep_breaks))
                _begin(node, lines)
                waiting.extend(reversed(node.children))
            case (element, kept):
                lines.keep_breaks = kept
                _end(element, lines)
    lines.end_line()
    while lines.done and not lines.done[-1]:
        lines.done.pop()
    return lines.done


def _is_unseen(element: Element) -> bool:
    return (
        element.tag in _UNSEEN
        or "hidden" in element.attributes
        or bool(_HIDING.search(element.get("style")))
    )


def _begin(element: Element, lines: _Lines) -> None:
    if element.tag in _APART:
        lines.end_block()
    elif element.tag in _CELLS:
        lines.say(_BETWEEN_CELLS)
    elif element.tag in BLOCKS or element.tag == "br":
        lines.end_line()
    if element.tag in {"pre", "listing", "xmp", "plaintext"}:
        lines.keep_breaks = True
    if element.tag == "sup":
        lines.raised = True


def _end(element: Element, lines: _Lines) -> None:
    if element.tag in _APART:
        lines.end_block()
    elif element.tag in BLOCKS and element.tag not in _CELLS:
        lines.end_line()

"""HTML in tokens, in one pass and in time proportional to its length.

The standard library's parser takes time with the square of the length where a tag or a comment is
never closed (120 kB of ``<a`` take it over a minute), so a page could hang the program.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from typing import Final, NamedTuple

MOST_TOKENS: Final = 300_000
"""Most tags, comments and texts read of a page [count]; long pages have some ten thousand."""


def words(text: str) -> frozenset[str]:
    """Return the words of a list that reads best as one text."""
    return frozenset(text.split())


KEPT: Final = words(
    "id itemid itemprop itemref itemscope itemtype content href src data datetime value type "
    "hidden style"
)
"""The attributes anybody here asks for."""

_MOST_ATTRIBUTES: Final = 200
_TAG = re.compile(r"<(/?)([A-Za-z][^ \t\n\f\r/>]*+)")
_NAME = re.compile(r"[ \t\n\f\r/]*+(=?[^ \t\n\f\r/>=]*+)")
_EQUALS = re.compile(r"[ \t\n\f\r]*+=[ \t\n\f\r]*+")
_BARE = re.compile(r"[^ \t\n\f\r>]*+")
_RAW: Final = {
    tag: re.compile(rf"</{tag}(?=[ \t\n\f\r/>])", re.IGNORECASE)
    for tag in words("script style title textarea xmp iframe noembed noframes noscript")
}
"""Elements whose content is not markup, and what ends each."""
_DECODED: Final = ("title", "textarea")
_TOO_LARGE = re.compile(r"&#(?:[0-9]{8,}+|[xX][0-9A-Fa-f]{8,}+);?")


class Start(NamedTuple):
    """A start tag, its attributes decoded."""

    tag: str
    attributes: dict[str, str]


class End(NamedTuple):
    """An end tag."""

    tag: str


class Text(NamedTuple):
    """Text between tags, entities decoded; the content of scripts as it stands."""

    data: str


class Cut(NamedTuple):
    """What comes next is not read, or was read as part of what has no end; nothing follows."""

    why: str


Token = Start | End | Text | Cut


def tokens(page: str) -> Iterator[Token]:
    """Yield the tokens of a page; comments and declarations are left out."""
    at = 0
    unended = ""
    for _ in range(MOST_TOKENS):
        if at >= len(page):
            break
        if page[at] != "<":
            end = page.find("<", at)
            end = len(page) if end < 0 else end
            yield Text(decode_entities(page[at:end]))
            at = end
        elif tag := _TAG.match(page, at):
            attributes, at = _attributes(page, tag.end())
            if at < 0:
                unended = "A tag"  # which HTML then leaves out
                break
            name = tag[2].lower()
            if tag[1]:
                yield End(name)
                continue
            yield Start(name, attributes)
            if name in _RAW:
                closing = _RAW[name].search(page, at)
                end = closing.start() if closing else len(page)
                unended = "" if closing else f"A part of the page ({name})"
                data = page[at:end]
                yield Text(decode_entities(data) if name in _DECODED else data)
                at = end
        elif page.startswith(("<!", "<?", "</"), at):
            at = _past_comment(page, at)
            unended = "" if at else "A comment"
            at = at or len(page)
        else:
            yield Text("<")
            at += 1
    if unended:
        yield Cut(f"{unended} has no end; what follows it was taken for its inside.")
    elif at < len(page):
        yield Cut("The page has more parts than can be read; its end was left out.")


def _attributes(page: str, at: int) -> tuple[dict[str, str], int]:
    """Return the attributes from a position on, and where the tag ends; -1 where it does not."""
    found: dict[str, str] = {}
    for _ in range(_MOST_ATTRIBUTES):
        name = _NAME.match(page, at)
        at = name.end() if name else at
        if at >= len(page):
            return found, -1
        if page[at] == ">":
            _keep(found, name[1] if name else "", "")
            return found, at + 1
        equals = _EQUALS.match(page, at)
        value = ""
        if equals:
            at = equals.end()
            quote = page[at : at + 1]
            if quote in {'"', "'"}:
                end = page.find(quote, at + 1)
                if end < 0:
                    return found, -1
                value = page[at + 1 : end]
                at = end + 1
            elif bare := _BARE.match(page, at):
                value = bare[0]
                at = bare.end()
        _keep(found, name[1] if name else "", value)
    return found, page.find(">", at) + 1 or -1


def _keep(found: dict[str, str], name: str, value: str) -> None:
    name = name.lower()
    if name in KEPT and name not in found:
        found[name] = decode_entities(value)


def _past_comment(page: str, at: int) -> int:
    """Return where a comment or declaration ends, 0 where it does not."""
    if page.startswith("<!--", at):
        # "<!-->" and "<!--->" are whole comments.
        end = page.find("-->", at + 2)
        return end + 3 if end >= 0 else 0
    return page.find(">", at) + 1


def decode_entities(text: str) -> str:
    """Return text with its entities as characters, once."""
    if "&" not in text:
        return text
    # Python refuses to make a number of thousands of digits.
    return html.unescape(_TOO_LARGE.sub("\ufffd", text))

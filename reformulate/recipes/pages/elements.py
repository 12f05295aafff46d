"""The elements of a page as a tree that is never deep and never large."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Final

from reformulate.recipes.pages.markup import Cut, End, Start, Text, tokens, words
from reformulate.recipes.pages.notes import Notes

MOST_ELEMENTS: Final = 100_000
"""Most elements read of a page [count]."""
MOST_CHARACTERS: Final = 4_000_000
"""Most characters of text read of a page [count]; a book has one million."""
DEEPEST: Final = 200
"""Most elements within each other [count]; what is deeper stands side by side."""
_LOOK: Final = 32
"""How far up an element is sought that a tag ends though nobody closed it [count]."""

BLOCKS: Final = words(
    "address article aside blockquote body caption center dd details dialog dir div dl dt fieldset "
    "figcaption figure footer form h1 h2 h3 h4 h5 h6 head header hgroup hr html legend li main "
    "menu nav ol p pre section summary table tbody td tfoot th thead tr ul"
)
"""Elements that stand on lines of their own."""
_VOID: Final = words("area base br col embed hr img input link meta param source track wbr")
_IN_HEAD: Final = words(
    "html head base basefont bgsound link meta noframes noscript script style template title"
)
_ENDS_A_PARAGRAPH: Final = BLOCKS - words(
    "body caption head html legend tbody td tfoot th thead tr dd dt li"
)
_IMPLIED: Final[dict[str, tuple[frozenset[str], frozenset[str]]]] = {
    **dict.fromkeys(_ENDS_A_PARAGRAPH, (frozenset({"p"}), words("button table td th caption"))),
    "li": (frozenset({"li"}), words("ul ol menu dir table")),
    "dt": (frozenset({"dt", "dd"}), frozenset({"dl", "table"})),
    "dd": (frozenset({"dt", "dd"}), frozenset({"dl", "table"})),
    "td": (frozenset({"td", "th"}), frozenset({"tr", "table"})),
    "th": (frozenset({"td", "th"}), frozenset({"tr", "table"})),
    "tr": (frozenset({"tr"}), frozenset({"table"})),
    **dict.fromkeys(
        ("thead", "tbody", "tfoot"),
        (frozenset({"thead", "tbody", "tfoot"}), frozenset({"table"})),
    ),
}
"""By start tag: the open elements it ends, and those beyond which it ends none."""


class Element:
    """One element: its tag, the attributes asked for, and what it holds."""

    __slots__ = ("attributes", "children", "tag")

    def __init__(self, tag: str, attributes: dict[str, str]) -> None:
        self.tag = tag
        self.attributes = attributes
        self.children: list[Element | str] = []

    def get(self, name: str) -> str:
        """Return an attribute's value, "" where it is not there."""
        return self.attributes.get(name, "")

    def within(self) -> Iterator[Element]:
        """Yield this element and all within it, in the order of the page."""
        waiting = [self]
        while waiting:
            element = waiting.pop()
            yield element
            waiting.extend(c for c in reversed(element.children) if isinstance(c, Element))

    def plain(self) -> str:
        """Return the texts that stand directly in it."""
        return "".join(child for child in self.children if isinstance(child, str))


class _Builder:
    def __init__(self, notes: Notes) -> None:
        self.root = Element("", {})
        self.open = [self.root]
        self.tags: Counter[str] = Counter()
        self.too_deep = 0
        self.room = MOST_CHARACTERS
        self.notes = notes

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        if tag not in _IN_HEAD:
            self._end_head()
        self._end_implied(tag)
        element = Element(tag, attributes)
        self.open[-1].children.append(element)
        if tag in _VOID:
            return
        if len(self.open) > DEEPEST:
            self.too_deep += 1
            self.notes.add(f"Parts of the page nested more than {DEEPEST} deep were read flat.")
            return
        self.open.append(element)
        self.tags[tag] += 1

    def _end_head(self) -> None:
        """End a head that nobody closed, as what comes next is to be seen."""
        if self.tags["head"] and "head" in (tags := [element.tag for element in self.open]):
            self._close(len(tags) - tags.index("head"))

    def _end_implied(self, tag: str) -> None:
        ended, bounds = _IMPLIED.get(tag, (None, None))
        if not ended or not bounds or not any(self.tags[each] for each in ended):
            return
        for back in range(1, min(_LOOK, len(self.open)) + 1):
            above = self.open[-back].tag
            if above in ended:
                self._close(back)
                return
            if above in bounds:
                return

    def end(self, tag: str) -> None:
        if self.too_deep:
            self.too_deep -= tag not in _VOID
            return
        if not self.tags[tag]:
            return
        for back in range(1, len(self.open)):
            above = self.open[-back].tag
            if above == tag:
                self._close(back)
                return
            # A stray </b> ends no list or table around it.
            if tag not in BLOCKS and (above in BLOCKS or back > _LOOK):
                return

    def _close(self, count: int) -> None:
        for element in self.open[-count:]:
            self.tags[element.tag] -= 1
        del self.open[-count:]

    def text(self, data: str) -> None:
        if self.open[-1].tag == "head" and not data.isspace():
            self._end_head()
        if self.open[-1].tag not in {"script", "style"}:
            if len(data) > self.room:
                self.notes.add("The page has more text than can be read; its end was left out.")
                data = data[: self.room]
            self.room -= len(data)
        self.open[-1].children.append(data)


def elements(page: str, notes: Notes) -> Element:
    """Return the root of a page's elements, a nameless element."""
    builder = _Builder(notes)
    count = 0
    for token in tokens(page):
        match token:
            case Start(tag, attributes) if count < MOST_ELEMENTS:
                count += 1
                builder.start(tag, attributes)
            case End(tag):
                builder.end(tag)
            case Text(data):
                builder.text(data)
            case Start():
                notes.add("The page has more parts than can be read; its end was left out.")
                break
            case Cut(why):
                notes.add(why)
    return builder.root

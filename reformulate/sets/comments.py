"""Comments above a table's header belong to that table, and move and go with it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from tomlkit.container import Container
from tomlkit.items import AoT, Comment, Item, Key, Null, Table, Whitespace

Body = list[tuple[Key | None, Item]]


@dataclass(slots=True)
class Comments:
    """The blank rows and comments that stood above each table's header, and at the file's end.

    The parser keeps them at the end of the table before. While the tables are changed they are
    kept here; ``put_back`` sets them above the headers they stood above.
    """

    above: list[tuple[Table, str]] = field(default_factory=list)
    at_end: str = ""

    def put_back(self) -> None:
        """Write what stood above each header above it again."""
        # Not earlier: the parser's tables take the spaces in it for the indentation of their keys.
        for table, text in self.above:
            table.trivia.indent = text + table.trivia.indent.lstrip("\n")


def take_comments(document: Container) -> Comments:
    """Take the comments between tables out of a parsed document, and say whose they are."""
    comments = Comments()
    loose: list[tuple[Body, int]] = []
    for body, place, table in _places(document.body):
        if table is not None:
            comments.above.append((table, _take(loose)))
            loose = []
        elif isinstance(body[place][1], Comment | Whitespace):
            loose.append((body, place))
        else:
            loose = []
    comments.at_end = _take(loose, whole=False)
    return comments


def all_comments(document: Container) -> tuple[str, ...]:
    """Return every comment of a parsed document, those within lists left out."""
    places = _places(document.body)
    items = [body[place][1] if table is None else table for body, place, table in places]
    found = [item.trivia.comment for item in items if not isinstance(item, Whitespace)]
    return tuple(comment for comment in found if comment)


def _places(body: Body) -> Iterator[tuple[Body, int, Table | None]]:
    """Yield every statement in the order of the text, headers with their table."""
    for place, (key, item) in enumerate(body):
        if isinstance(item, AoT):
            for table in item.body:
                yield body, place, table
                yield from _places(table.value.body)
        elif isinstance(item, Table) and key is not None and not key.is_dotted():
            if not item.is_super_table():
                yield body, place, item
            yield from _places(item.value.body)
        elif not isinstance(item, Null):
            yield body, place, None


def _take(loose: list[tuple[Body, int]], *, whole: bool = True) -> str:
    """Cut statements that say nothing out of their bodies and return their text.

    What stands before the first blank row stays with the table above; where there is no blank
    row, everything is taken if ``whole``, nothing if not.
    """
    items = [body[place][1] for body, place in loose]
    blank = next((i for i, item in enumerate(items) if isinstance(item, Whitespace)), None)
    first = blank if blank is not None else (0 if whole else len(loose))
    for body, place in loose[first:]:
        body[place] = (None, Null())
    return "".join(item.as_string() for item in items[first:])

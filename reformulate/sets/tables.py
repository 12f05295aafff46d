"""Tables in the text of a file: those of an array found, set out in rows, put back in order."""

from __future__ import annotations

from collections.abc import Sequence

import tomlkit
from tomlkit.container import Container
from tomlkit.items import AoT, Array, InlineTable, Table, Trivia

from reformulate.sets.values import Place


def set_out(place: Container | Table, key: str) -> None:
    """Give tables that are written within a row, or in dotted keys, rows of their own."""
    body = place.body if isinstance(place, Container) else place.value.body
    dotted = any(k is not None and k.key == key and k.is_dotted() for k, _ in body)
    if dotted or isinstance(place.get(key), Array | InlineTable):
        data = place[key].unwrap()
        del place[key]
        place[key] = tomlkit.item(data)


def tables_of(place: Place, key: str) -> list[Table]:
    """Return the tables of an array; none where it is not there."""
    found = place.get(key)
    return list(found.body) if isinstance(found, AoT) else []


def put_tables(place: Place, key: str, tables: Sequence[Table]) -> None:
    """Make an array of tables hold these, in order; none of them leaves no array."""
    existing = place.get(key)
    if isinstance(existing, AoT) and tables:
        existing.body[:] = tables
        return
    if existing is not None:
        del place[key]
    if tables:
        place[key] = AoT(list(tables))


def new_table(*, in_array: bool) -> Table:
    """Return an empty table with an empty row before it."""
    alone = None if in_array else False
    return Table(Container(), Trivia(indent="\n"), is_aot_element=in_array, is_super_table=alone)

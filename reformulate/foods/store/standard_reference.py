"""The Standard Reference: ASCII files, with ``^`` between fields and ``~`` around text.

Figures come from the abbreviated file (in its ASCII or its comma form) or, where only the full
release is at hand, from ``NUT_DATA``. Descriptions, groups and household weights are taken from
their own files where these are there.
"""

from __future__ import annotations

import re
import struct
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any, Final

from reformulate.errors import BadInput
from reformulate.foods.nutrients import INDEX, NUTRIENTS
from reformulate.foods.plain_text import clean, sentence_case
from reformulate.foods.release import COLUMNS, letters
from reformulate.foods.store.download import Download, Part
from reformulate.foods.store.figures import COMPONENT_OF, UNKNOWN, nutrients_of, packed
from reformulate.foods.store.numbers import Identities, identity, number
from reformulate.foods.store.portions import measures_of
from reformulate.foods.store.record import (
    STANDARD_REFERENCE,
    Record,
    release_name,
    usable_figures,
)
from reformulate.foods.store.release_reader import ReleaseReader
from reformulate.foods.store.rows import Layout, Row, RowReader, missing_columns
from reformulate.foods.store.stage import Stage, Staged
from reformulate.foods.store.text import Reading
from reformulate.foods.store.watch import Watch
from reformulate.foods.table import Food

_FIGURES = tuple((name, INDEX[key]) for name, key in COLUMNS.items() if key)
_WEIGHTS = ("GmWt_1", "GmWt_Desc1", "GmWt_2", "GmWt_Desc2")
_ASKED = ("NDB_No", "Shrt_Desc", *_WEIGHTS, "Refuse_Pct", *(name for name, _ in _FIGURES))
_GIVEN = frozenset([*_WEIGHTS, "Refuse_Pct"])
_MOST_GROUPS = 1000

_ABBREV_COMMA: Final = Layout(columns=_ASKED, optional=_GIVEN, spelling=letters)
_ABBREV_ASCII: Final = Layout(
    columns=_ASKED, unnamed=(len(COLUMNS), tuple(COLUMNS)), spelling=letters
)


def _ascii(width: int, *names: str) -> Layout:
    return Layout(columns=tuple(name for name in names if name), unnamed=(width, names))


_GROUPS = _ascii(2, "code", "name")
_FOODS = _ascii(
    14, "ndb", "group", "long", "short", "common", "maker", "survey", "refused", "percent"
)
_HOUSEHOLD = _ascii(7, "ndb", "order", "amount", "wording", "grams")
_AMOUNTS = _ascii(18, "ndb", "component", "amount")

_NAMED, _REFUSED, _ABBREVIATED, _SHORT_WEIGHT, _AMOUNT, _WEIGHT = range(6)


def is_standard_reference(download: Download) -> bool:
    """Return whether a download holds figures in the layout of the Standard Reference."""
    return _figures_part(download) is not None


@dataclass(slots=True, kw_only=True)
class StandardReference(ReleaseReader):
    """Reads one download of the Standard Reference."""

    stage: Stage
    _groups: dict[str, str] = field(default_factory=dict)

    def parts(self) -> tuple[Part, ...]:
        """Return the files that are read."""
        names = ("fd_group.txt", "food_des.txt", "weight.txt")
        parts = [_figures_part(self.download), *(self.download.find(name) for name in names)]
        return tuple(part for part in parts if part is not None)

    def read(self) -> None:
        """Put everything on the stage; raises as the base says."""
        figures = _figures_part(self.download)
        assert figures is not None  # noqa: S101 - `is_standard_reference` was asked first
        layout = _layout_of(figures)
        if problems := missing_columns(figures, layout):
            raise BadInput(problems)
        self.release = self.release or release_name(
            self.download.path, r"sr[-_ ]*(?:leg)?[-_ ]*(\d\d)", "SR{}"
        )
        for name, asked, rows in (
            ("fd_group.txt", _GROUPS, self._read_groups),
            ("food_des.txt", _FOODS, self._food_rows),
            ("weight.txt", _HOUSEHOLD, self._weight_rows),
        ):
            if part := self.download.find(name):
                self.stage.add(rows(self.rows_of(part, asked)))
        reader = self.rows_of(figures, layout)
        self.stage.add(
            self._amount_rows(reader) if layout is _AMOUNTS else self._abbreviated_rows(reader)
        )

    def records(self) -> Iterator[Record]:
        """Give the foods that were put on the stage, by number."""
        for ndb, rows in self.stage.foods():
            record = self._record(f"{ndb:05}", rows)
            if record is not None:
                yield record

    def _read_groups(self, reader: RowReader) -> Iterator[Staged]:
        for _, (code, name) in reader.rows():
            if len(self._groups) < _MOST_GROUPS:
                self._groups[code] = clean(name)
        yield from ()

    def _food_rows(self, reader: RowReader) -> Iterator[Staged]:
        for _, ndb, row in _once(reader):
            _, group, name, short, common, *_, percent = row
            named = clean(name) or sentence_case(clean(short))
            yield ndb, _NAMED, named, clean(common), self._groups.get(group, "")
            yield ndb, _REFUSED, percent, None, None

    def _weight_rows(self, reader: RowReader) -> Iterator[Staged]:
        for line, (text, _, amount, wording, weight) in reader.rows():
            ndb, grams = identity(text, 5), number(weight)
            if ndb is None or grams is None:
                reader.faults.add("The number of the food or the grams cannot be read.", line)
            else:
                yield ndb, _WEIGHT, grams, f"{amount} {wording}", None

    def _amount_rows(self, reader: RowReader) -> Iterator[Staged]:
        for line, (text, component, written) in reader.rows():
            wanted = COMPONENT_OF.get(component)
            if wanted is None:
                continue
            ndb, amount = identity(text, 5), number(written)
            if ndb is None or amount is None or amount < 0:
                reader.faults.add("The number of the food or the amount cannot be read.", line)
            else:
                yield ndb, _AMOUNT, wanted, amount, None

    def _abbreviated_rows(self, reader: RowReader) -> Iterator[Staged]:
        for line, ndb, row in _once(reader):
            short, weights, percent, texts = row[1], row[2:6], row[6], row[7:]
            figures = [UNKNOWN] * len(NUTRIENTS)
            for (name, column), text in zip(_FIGURES, texts, strict=True):
                if text and not text.isspace():
                    figure = number(text)
                    if figure is None or figure < 0:
                        reader.faults.add(f"{name} is no number.", line)
                    else:
                        figures[column] = figure
            yield ndb, _ABBREVIATED, clean(short), packed(tuple(figures)), percent
            for weight, wording in (weights[:2], weights[2:]):
                if (grams := number(weight)) is not None:
                    yield ndb, _SHORT_WEIGHT, grams, wording, None

    def _record(self, ndb: str, rows: Iterable[Staged]) -> Record | None:
        parts: dict[int, tuple[Any, ...]] = {}
        components: dict[int, float] = {}
        weights: dict[int, list[tuple[float, str]]] = {_WEIGHT: [], _SHORT_WEIGHT: []}
        for _, part, *values in rows:
            if part == _AMOUNT:
                components.setdefault(values[0], values[1])
            elif part in weights:
                weights[part] += [(values[0], values[1])] if len(weights[part]) < 100 else []
            else:
                parts.setdefault(part, tuple(values))
        place = f"NDB {ndb}"
        short, blob, percent = parts.get(_ABBREVIATED, ("", b"", ""))
        name, common, group = parts.get(_NAMED, ("", "", ""))
        name = name or sentence_case(short)
        if not name:
            self.tally.skip("It has no name.", place)
            return None
        figures, note = nutrients_of(components)
        if blob:
            figures, note = struct.unpack(f"<{len(NUTRIENTS)}d", blob), ""
        usable = usable_figures(figures, self.tally, place)
        if usable is None:
            return None
        refused = parts.get(_REFUSED, (percent,))[0] or percent
        food = Food(
            key=f"ndb:{ndb}",
            name=name,
            group=group or "From a release",
            words=tuple(re.split(r"\s*[,;]\s*", common)) if common else (),
            source=f"NDB {ndb}, {self.release}",
            ndb=ndb,
            edible_share=self._edible_share(refused, place),
            measures=measures_of(
                weights[_WEIGHT] or weights[_SHORT_WEIGHT], f"{self.release}, household weight"
            ),
            note=note,
        )
        return Record(kind=STANDARD_REFERENCE, food=food, figures=usable)

    def _edible_share(self, percent: str, place: str) -> float:
        refused = number(percent) if percent else 0.0
        if refused is None or not 0 <= refused <= 100:
            self.tally.skip("The refuse is no percentage: taken as none.", place)
            return 1.0
        return 1 - refused / 100


def _once(reader: RowReader) -> Iterator[tuple[int, int, Row]]:
    """Rows of a file that has one for each food, with line and number."""
    seen = Identities()
    for line, row in reader.rows():
        ndb = identity(row[0], 5)
        if ndb is None:
            reader.faults.add("The number of the food is not up to five digits.", line)
        elif not seen.add(ndb):
            reader.faults.add("The number of the food stands there twice.", line)
        else:
            yield line, ndb, row


def _figures_part(download: Download) -> Part | None:
    found = download.find("abbrev.txt", "abbrev.csv", "nut_data.txt")
    if found is None and len(download.parts) == 1:
        (only,) = download.parts
        if only.name.endswith((".txt", ".csv")) and _first_line(only).startswith(("~", "NDB_No")):
            return only
    return found


def _layout_of(part: Part) -> Layout:
    if part.name == "nut_data.txt":
        return _AMOUNTS
    return _ABBREV_ASCII if _first_line(part).startswith("~") else _ABBREV_COMMA


def _first_line(part: Part) -> str:
    block = next(Reading(part, Watch()).blocks(), b"")
    return block[:200].decode("latin-1").lstrip()

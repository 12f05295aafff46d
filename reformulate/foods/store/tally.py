"""What could not be used of a download, and why: counted, with the first places of each kind."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from reformulate.errors import BadInput, Problem

_PLACES = 3  # shown of each kind
_KINDS = 40  # told apart; the reasons are ours, so this is never reached by a sound program
_FEW_ROWS = 20
_JUDGED_EACH = 1000  # broken rows between two looks at whether there is any use in reading on
_SHARE = 0.05
"""A file in which more than one row in twenty is broken is not the file it seems to be."""

AGAIN = "Download it again and import that."


@dataclass(frozen=True, slots=True, kw_only=True)
class Skipped:
    """Rows left out for one reason."""

    what: str
    """The reason, as a sentence."""
    count: int
    """Rows [count]."""
    places: tuple[str, ...] = ()
    """The first of them: file and line."""


class Tally:
    """Collects what is left out while a download is read."""

    def __init__(self) -> None:
        self._count: dict[str, int] = {}
        self._places: dict[str, list[str]] = {}

    def skip(self, what: str, place: str = "", count: int = 1) -> None:
        """Note that something is left out because of ``what``."""
        if what not in self._count and len(self._count) >= _KINDS:
            what = "For other reasons."
        self._count[what] = self._count.get(what, 0) + count
        places = self._places.setdefault(what, [])
        if place and len(places) < _PLACES:
            places.append(place)

    def skipped(self) -> tuple[Skipped, ...]:
        """Return what was left out, most first."""
        ranked = sorted(self._count.items(), key=lambda pair: (-pair[1], pair[0]))
        return tuple(
            Skipped(what=what, count=count, places=tuple(self._places[what]))
            for what, count in ranked
        )

    def problems(self, where: str) -> list[Problem]:
        """Return what was left out as problems, each with its first place."""
        return [
            Problem(
                where=each.places[0] if each.places else where,
                what=each.what if each.count == 1 else f"{each.what} So it is {each.count} times.",
                fix=AGAIN,
            )
            for each in self.skipped()
        ]


class Faults:
    """The broken rows of one file; too many and the file is refused."""

    def __init__(self, tally: Tally, where: str, rows: Callable[[], int]) -> None:
        self._tally = tally
        self._where = where
        self._rows = rows
        self._own = Tally()
        self.count = 0

    def add(self, what: str, at: int, unit: str = "line") -> None:
        """Leave out what stands at ``at`` [``unit``] because of ``what``."""
        self.count += 1
        place = f"{self._where}, {unit} {at:,}"
        self._tally.skip(what, place)
        self._own.skip(what, place)
        if self.count % _JUDGED_EACH == 0:
            self.judge()

    def judge(self) -> None:
        """Refuse the file where too many of its rows were broken.

        Raises
        ------
        BadInput
            With the first place of each kind of fault.
        """
        if self.count > _FEW_ROWS and self.count > _SHARE * self._rows():
            raise BadInput(self._own.problems(self._where))

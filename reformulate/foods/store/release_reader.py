"""What the readers of the three layouts have in common."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass, field

from reformulate.foods.store.download import Download, Part
from reformulate.foods.store.record import Record
from reformulate.foods.store.rows import Layout, RowReader
from reformulate.foods.store.tally import Tally
from reformulate.foods.store.text import Reading
from reformulate.foods.store.watch import Watch


@dataclass(slots=True, kw_only=True)
class ReleaseReader(ABC):
    """Reads one download: `read` what must be gathered first, then give the `records`."""

    download: Download
    watch: Watch
    tally: Tally
    release: str = ""
    """What the release is called; "" for what the download's name tells."""
    picked: bool = False
    """Whether the files are picked foods rather than a whole collection; known once read."""
    readings: list[Reading] = field(default_factory=list)

    @abstractmethod
    def parts(self) -> tuple[Part, ...]:
        """Return the files that are read."""

    @abstractmethod
    def read(self) -> None:
        """Read all that must be known before the first food can be given.

        Raises
        ------
        BadInput
            A file is missing, not laid out as it should be, or too much of it is broken.
        FileProblem
            A file cannot be read.
        """

    @abstractmethod
    def records(self) -> Iterator[Record]:
        """Give the foods; raises as `read` does, of files that are read only now."""

    def rows_of(self, part: Part, layout: Layout) -> RowReader:
        """Return what reads the rows of a file, its reading kept."""
        reader = RowReader(part, layout, self.watch, self.tally)
        self.readings.append(reader.reading)
        return reader

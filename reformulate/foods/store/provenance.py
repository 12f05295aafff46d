"""Where the foods of the store come from."""

from __future__ import annotations

from dataclasses import dataclass

from reformulate.foods.store.tally import Skipped


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceFile:
    """One file that was read."""

    name: str
    size: int
    """Unpacked [bytes]."""
    modified: str
    """When it was last changed, ISO 8601."""
    sha256: str
    rows: int
    """Rows or foods in it [count]."""
    latin_lines: int = 0
    """Lines that were not UTF-8 and were read as Latin-1 [count]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """One collection of foods of one import."""

    kind: str
    """Standard Reference, Foundation, SR Legacy, Survey (FNDDS) or Branded."""
    release: str
    """The release as its download names it: ``SR28``, ``2024-10-31``."""
    picked: bool = False
    """Whether it is foods picked one by one, which stand beside a whole collection."""
    imported_at: str
    """ISO 8601, UTC."""
    foods: int
    """Foods in the store now [count]."""
    files: tuple[SourceFile, ...] = ()
    skipped: tuple[Skipped, ...] = ()
    """What was left out of the whole import."""

    @property
    def title(self) -> str:
        """As a list of foods names it."""
        return f"{self.kind}, {self.release}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Imported:
    """What an import did."""

    sources: tuple[Source, ...]
    """The collections that are new or replaced."""
    replaced: int
    """Foods of earlier imports that made way [count]."""
    skipped: tuple[Skipped, ...] = ()

    @property
    def foods(self) -> int:
        """Foods imported [count]."""
        return sum(source.foods for source in self.sources)

"""Reading a text or a file for the intake, off the window's thread."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from reformulate import (
    FoodTable,
    Intake,
    MeasureSystem,
    Source,
    as_text,
    read_source,
    read_source_file,
    take_in,
)
from ui.work import Progress, Work


@dataclass(frozen=True, slots=True, kw_only=True)
class Against:
    """What a recipe is read against."""

    foods: FoodTable
    system: MeasureSystem
    remembered: Mapping[str, str]
    """Food keys by the user's words: choices made before."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What came of reading."""

    sources: tuple[Source, ...]
    """Every recipe found."""
    intake: Intake | None
    """Of the only recipe; None where it has to be asked which one is meant."""
    given: str | None = None
    """The text that was read; None for a file."""


def file_work(path: Path, against: Against) -> Work:
    """Return the work that reads a file."""

    def work(_progress: Progress) -> object:
        return _taken(read_source_file(path), against)

    return work


def text_work(text: str, origin: Source | None, against: Against) -> Work:
    """Return the work that reads a text.

    ``origin`` is what was read from a file and shown as text: as long as nobody changes that text
    it stands; what a page says beside its text stays in any case.
    """

    def work(_progress: Progress) -> object:
        if origin is not None and text == as_text(origin):
            return _taken((origin,), against, text)
        sources = read_source(text.encode("utf-8", "replace"))
        if origin is not None and not origin.text and _same_recipe(origin, sources[0]):
            notes = (*origin.notes, *sources[0].notes)
            sources = (replace(sources[0], claims=origin.claims, notes=notes),)
        return _taken(sources, against, text)

    return work


def _same_recipe(one: Source, other: Source) -> bool:
    """Whether a text is still that of a page: half of its lines are as they were."""
    before = {line.text.strip() for line in one.lines}
    return 2 * len(before & {line.text.strip() for line in other.lines}) >= len(before)


def _taken(sources: tuple[Source, ...], against: Against, given: str | None = None) -> Reading:
    if len(sources) != 1:
        return Reading(sources=sources, intake=None, given=given)
    intake = take_in(sources[0], against.foods, against.system, against.remembered)
    return Reading(sources=sources, intake=intake, given=given)

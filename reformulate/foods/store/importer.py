"""Importing a user's own download of a public release into the store."""

from __future__ import annotations

from contextlib import ExitStack, closing
from datetime import UTC, datetime
from pathlib import Path

from reformulate.errors import BadInput, Problem
from reformulate.foods.store.download import Download, opened_download
from reformulate.foods.store.fdc_csv import FdcCsv, is_fdc_csv
from reformulate.foods.store.fdc_json import FdcJson, is_fdc_json
from reformulate.foods.store.place import default_store_path
from reformulate.foods.store.provenance import Imported, SourceFile
from reformulate.foods.store.reading import sources_of
from reformulate.foods.store.release_reader import ReleaseReader
from reformulate.foods.store.schema import writing
from reformulate.foods.store.stage import Stage
from reformulate.foods.store.standard_reference import StandardReference, is_standard_reference
from reformulate.foods.store.tally import Tally
from reformulate.foods.store.text import Reading
from reformulate.foods.store.watch import (
    READ_UP_TO,
    WRITTEN_UP_TO,
    Cancel,
    Cancelled,
    Progress,
    Watch,
)
from reformulate.foods.store.writer import Writer

_EXPECTED = (
    "Choose the folder, zip archive or file of a release: the Standard Reference (ABBREV or "
    "NUT_DATA, best with FOOD_DES, FD_GROUP and WEIGHT), or FoodData Central as CSV (food, "
    "food_nutrient and the files beside them) or as JSON."
)


def import_release(
    download: Path | str,
    store: Path | None = None,
    *,
    release: str = "",
    progress: Progress | None = None,
    cancel: Cancel | None = None,
    now: datetime | None = None,
) -> Imported | None:
    """Import a download into the store, all of it or nothing.

    The foods take the place of those of the same collection (Standard Reference, Foundation,
    SR Legacy, Survey, Branded) from an earlier import; other collections stay. A JSON file with
    picked foods, rather than a collection, replaces foods of the same number only. Whoever
    searches the store meanwhile finds what was there before.

    Parameters
    ----------
    download
        A folder, a zip archive or a file.
    store
        The store's file, made if it is not there; the user's own by default.
    release
        What the release is called; by default what the download's name tells.
    progress
        Hears what is done [fraction] and what is being done, in this thread.
    cancel
        An event, or a function that answers whether to stop; asked many times a second.
    now
        When this happens; by default the system's time.

    Returns
    -------
    Imported, or None where it was cancelled; the store is then as it was.

    Raises
    ------
    BadInput
        The download is no release, or is broken: every problem found, with file and line.
    FileProblem
        The download cannot be read, or the store cannot be written.
    """
    path = Path(download)
    target = default_store_path() if store is None else Path(store)
    when = (now or datetime.now(UTC)).astimezone(UTC).isoformat(timespec="seconds")
    watch, tally = Watch(progress, cancel), Tally()
    try:
        with ExitStack() as stack:
            opened = stack.enter_context(opened_download(path))
            reader = _reader_of(opened, watch, tally, stack)
            reader.release = release
            reading = WRITTEN_UP_TO if isinstance(reader, FdcJson) else READ_UP_TO
            watch.begin(sum(part.size for part in reader.parts()), reading)
            reader.read()
            found = _written(reader, target, watch, tally, when)
    except Cancelled:
        return None
    if progress is not None:
        progress(1.0, "Done")
    return found


def _reader_of(download: Download, watch: Watch, tally: Tally, stack: ExitStack) -> ReleaseReader:
    if is_fdc_csv(download):
        stage = stack.enter_context(closing(Stage(watch)))
        return FdcCsv(download=download, stage=stage, watch=watch, tally=tally)
    if is_fdc_json(download):
        return FdcJson(download=download, watch=watch, tally=tally)
    if is_standard_reference(download):
        stage = stack.enter_context(closing(Stage(watch)))
        return StandardReference(download=download, stage=stage, watch=watch, tally=tally)
    names = ", ".join(part.where for part in download.parts[:5]) or "nothing of that kind"
    what = f"No files of a food release are there (found: {names})."
    raise BadInput(Problem(where=str(download.path), what=what, fix=_EXPECTED))


def _written(
    reader: ReleaseReader, target: Path, watch: Watch, tally: Tally, when: str
) -> Imported:
    path = str(target)
    with writing(target) as connection:
        writer = Writer(connection, watch, when)
        count = writer.write(reader.records(), picked=lambda: reader.picked)
        if not count:
            what = "There are no foods in it."
            nothing = Problem(where=path, what=what, fix=_EXPECTED)
            raise BadInput(tally.problems(path) or nothing)
        sources = writer.finish(reader.release, _files(reader.readings), tally.skipped())
        found = Imported(
            sources=sources_of(connection, sources),
            replaced=writer.replaced,
            skipped=tally.skipped(),
        )
        watch.check()
    return found


def _files(readings: list[Reading]) -> tuple[SourceFile, ...]:
    return tuple(
        SourceFile(
            name=reading.part.where,
            size=reading.bytes,
            modified=reading.part.modified,
            sha256=reading.sha256,
            rows=reading.rows,
            latin_lines=reading.latin_lines,
        )
        for reading in readings
    )

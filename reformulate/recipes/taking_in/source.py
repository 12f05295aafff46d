"""A recipe as it arrives: a text, a saved page, or bare lines; read, nothing looked up yet."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from reformulate.errors import FileProblem, Problem
from reformulate.recipes.pages import PAGE_LIMIT, PageRecipe, read_page
from reformulate.recipes.reading import (
    ReadLine,
    printed_for_a_serving,
    read_line,
    read_text,
)

PAGES: Final = (".html", ".htm", ".xhtml", ".json", ".jsonld")
"""Endings of files that are read as pages."""

PRINTED: Final = "Kept as what the source prints for a serving; Review compares it."
"""What becomes of a row of nutrients."""

LINE_LIMIT: Final = 20_000
"""Most lines read as ingredients of one file with ``lines_only`` [count]."""

_NEW_LINE: Final = re.compile(r"\r\n|[\r\n]")
_PAGE_START: Final = re.compile(
    rb"(?:\xef\xbb\xbf)?\s*(?:<(?:!doctype html|html|\?xml)|\{\s*[\"}]|\[\s*[\[{])", re.IGNORECASE
)
"""How pages and JSON begin; a list with boxes to tick begins with one bracket only."""
_MARKS: Final = (b"\xff\xfe", b"\xfe\xff")


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """What was read, every line beside its text as written."""

    title: str
    servings: float | None
    """Servings it names [count]; the middle of a range; None where it names none."""
    servings_text: str
    lines: tuple[ReadLine, ...]
    """Ingredient lines and the headings among them."""
    steps: tuple[str, ...]
    claims: tuple[tuple[str, float], ...] = ()
    """Nutrients per serving as the source prints them: key and value [our unit], unchecked."""
    notes: tuple[str, ...] = ()
    """What was mended, guessed, left out or not understood, in plain words."""
    text: str = ""
    """The text it was read from, to the letter; "" for a page."""


def read_source(data: bytes, name: str = "", *, lines_only: bool = False) -> tuple[Source, ...]:
    """Read every recipe in a file.

    Parameters
    ----------
    data : bytes
        The file, or text that was pasted, as UTF-8.
    name : str
        Its name: by the ending a page is told from a text.
    lines_only : bool
        Take every line as an ingredient.

    Raises
    ------
    FileProblem
        If it is no text, or too large.
    """
    if lines_only:
        return (_bare_lines(_decoded(data, name)),)
    if not name.lower().endswith(PAGES) and not _looks_like_a_page(data):
        return (_from_text(_decoded(data, name)),)
    page = read_page(data, name)
    if page.recipes:
        return tuple(_from_page(recipe, page.notes) for recipe in page.recipes)
    found = _from_text(page.text)
    return (_with_notes(found, page.notes),)


def read_source_file(path: Path, *, lines_only: bool = False) -> tuple[Source, ...]:
    """Read every recipe in a file; errors as for `read_source`, and where it cannot be had."""
    path = Path(path)
    try:
        if not path.is_file():
            raise FileProblem(Problem(str(path), "there is no such file.", "Check its name."))
        with path.open("rb") as file:
            data = file.read(PAGE_LIMIT + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise FileProblem(
            Problem(str(path), f"cannot be read: {reason}.", "Check the folder and the disk.")
        ) from None
    return read_source(data, path.name, lines_only=lines_only)


def as_text(source: Source) -> str:
    """Return the text a recipe was read from, or a page's recipe as a cook would write it down.

    It can be corrected and read again.
    """
    if source.text:
        return source.text
    parts = [source.title] if source.title else []
    if source.servings is not None:
        parts.append(f"Serves {source.servings:g}")
    elif source.servings_text:
        parts.append(source.servings_text)
    rows = [line.text.strip() for line in source.lines]
    blocks = ["\n".join(parts), "\n".join(rows)]
    if source.steps:
        blocks.append("Method\n" + "\n".join(source.steps))
    return "\n\n".join(block for block in blocks if block) + "\n"


def _decoded(data: bytes, name: str) -> str:
    if len(data) > PAGE_LIMIT:
        what = f"is larger than {PAGE_LIMIT // 1_000_000} MB."
        raise FileProblem(Problem(name or "The text", what, "Take the recipe alone."))
    try:
        return data.decode("utf-16" if data[:2] in _MARKS else "utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def _looks_like_a_page(data: bytes) -> bool:
    return bool(_PAGE_START.match(data[:1000]))


def _bare_lines(text: str) -> Source:
    rows = [row for row in _NEW_LINE.split(text) if row.strip()]
    notes: tuple[str, ...] = ()
    if len(rows) > LINE_LIMIT:
        notes = (f"Only the first {LINE_LIMIT} lines were read.",)
    return Source(
        title="",
        servings=None,
        servings_text="",
        lines=tuple(_ingredient(row) for row in rows[:LINE_LIMIT]),
        steps=(),
        notes=notes,
    )


def _ingredient(row: str) -> ReadLine:
    """Read a row as an ingredient, even if it ends as a heading does."""
    read = read_line(row)
    if not read.heading:
        return read
    bare = read_line(row.strip("#*_: \t"))
    return read if bare.heading else replace(bare, text=row)


def _from_text(text: str) -> Source:
    found = read_text(text)
    rows = text.splitlines()
    aside = [rows[note.line - 1] if note.line else "" for note in found.notes]
    printed = printed_for_a_serving(aside)
    notes = [
        f"“{note.text}”: {PRINTED if claims else note.what}" if note.text else note.what
        for note, claims in zip(found.notes, printed, strict=True)
    ]
    if found.servings and found.servings.range:
        middle = found.servings.number
        notes.append(f"“{found.servings.text}”: the middle, {middle:g} servings, is used.")
    return Source(
        title=found.title,
        servings=found.servings.number if found.servings else None,
        servings_text=found.servings.text if found.servings else "",
        lines=found.lines,
        steps=found.steps,
        claims=tuple(claim for claims in printed for claim in claims),
        notes=tuple(notes),
        text=text,
    )


def _from_page(recipe: PageRecipe, notes: tuple[str, ...]) -> Source:
    claims = [(one.key, one.in_our_unit) for one in recipe.nutrition if not one.below]
    return Source(
        title=recipe.title,
        servings=recipe.servings,
        servings_text=recipe.yield_text,
        lines=tuple(read_line(row) for row in recipe.lines),
        steps=tuple(step.text for step in recipe.steps),
        claims=tuple((key, value) for key, value in claims if value is not None),
        notes=notes,
    )


def _with_notes(source: Source, notes: tuple[str, ...]) -> Source:
    return replace(source, notes=(*notes, *source.notes))

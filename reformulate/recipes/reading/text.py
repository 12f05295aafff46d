"""Read a whole recipe from text: title, servings, ingredient lines and steps, without markers."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from reformulate.recipes.reading.line_kinds import is_rule
from reformulate.recipes.reading.recipe_values import ReadRecipe
from reformulate.recipes.reading.scan import without_controls
from reformulate.recipes.reading.sorting import SIGNATURE_MARK, Sorting
from reformulate.recipes.reading.titles import parted_title
from reformulate.recipes.reading.wrapped import Row

MOST_CHARACTERS: Final = 50_000
"""How much of a text is read; a recipe is seldom longer than 5,000."""
MOST_LINES: Final = 1_000
"""How many lines of a text are read."""
_KEYCAP: Final = re.compile(r"([0-9])\ufe0f?\u20e3 *")
"""A number drawn as a key, as steps are numbered where pictures stand for marks."""
_QUOTED: Final = re.compile(r"[ \t]*(?:>[> \t]*)?")


def read_text(text: str) -> ReadRecipe:
    r"""Read a recipe that was pasted or opened as plain text; never fails.

    Parameters
    ----------
    text : str
        Of any length; the first ``MOST_CHARACTERS`` characters and ``MOST_LINES`` lines are read.

    Returns
    -------
    ReadRecipe
        Whatever is neither title, servings, ingredient nor step is among its notes.

    Examples
    --------
    >>> found = read_text("Bean dip\nServes 4\n\n1 can beans\nsalt\n\nMash the beans. Chill.")
    >>> found.title, found.servings.number, [line.food_text for line in found.lines], found.steps
    ('Bean dip', 4.0, ['beans', 'salt'], ('Mash the beans. Chill.',))
    """
    lines = text[:MOST_CHARACTERS].splitlines()
    sorting = Sorting(tuple(_rows(lines[:MOST_LINES])))
    sorting.sort()
    if len(text) > MOST_CHARACTERS or len(lines) > MOST_LINES:
        last = min(len(lines), MOST_LINES)
        sorting.note(Row(last, "", 0), "The text goes on; only what stands before was read.")
    return sorting.settled()


def _rows(lines: list[str]) -> Iterator[Row]:
    """Give the lines that say something, without the marks of a quoted mail."""
    is_first = True
    for number, raw in enumerate(lines, start=1):
        line = _KEYCAP.sub(r"\1. ", without_controls(raw))
        quoted = _QUOTED.match(line)
        start = quoted.end() if quoted else 0
        bare = line[start:].strip()
        if bare and (bare == SIGNATURE_MARK or not is_rule(bare)):
            parts = parted_title(bare) if is_first else (bare,)
            is_first = False
            yield from (Row(number, part, start) for part in parts)

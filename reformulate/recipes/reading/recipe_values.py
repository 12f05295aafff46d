"""A recipe as read from a text, with what was left out of it."""

from __future__ import annotations

from dataclasses import dataclass

from reformulate.recipes.reading.servings import ReadServings
from reformulate.recipes.reading.values import ReadLine


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadNote:
    """A line of the text that is not in the recipe, or what was noticed about it."""

    line: int
    """Number of the line in the text, from 1; 0 for the text as a whole."""
    text: str
    """The line, shortened."""
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadRecipe:
    """A recipe as read from a text."""

    title: str
    """"" where none was found."""
    servings: ReadServings | None
    lines: tuple[ReadLine, ...]
    """Ingredient lines and the headings among them, in order."""
    places: tuple[int, ...]
    """The number of each line in the text, from 1."""
    steps: tuple[str, ...]
    notes: tuple[ReadNote, ...]
    """What was left out or not found, with its line."""

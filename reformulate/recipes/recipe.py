"""A recipe as written: frozen values, no arithmetic."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

ROLES: Final = (
    "base",
    "flavouring",
    "fat",
    "acid",
    "sweetener",
    "salt",
    "body",
    "liquid",
    "inclusion",
    "garnish",
)
"""What a line does in the recipe."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One ingredient line. Exactly one of ``amount`` and ``grams`` is given."""

    id: str
    """Unique within the recipe; the food's key unless a food is listed twice."""
    food: str
    """Key in the food table, or ``ndb:`` and a number of an imported release."""
    amount: str = ""
    """The amount as written, e.g. ``1 1/2 cups``."""
    grams: float | None = None
    """The amount as weighed [g]."""
    role: str = "base"
    prep: str = ""
    retention: int | None = None
    """Retention code of release 6 [code]; None where the food's own figures stand."""
    as_bought: bool = False
    """True where the amount still includes peel, pits or shells; the food's edible share then counts."""
    text: str = ""
    """The line to the letter, where it was read from a text or a page."""

    @property
    def written(self) -> str:
        """The amount as the cook wrote it."""
        return self.amount or f"{self.grams:g} g"


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """A dish: its lines, how many it serves and what cooking drives off."""

    title: str
    servings: float
    """Servings in the batch [count]."""
    moisture_loss_percent: float = 0.0
    """Water lost in cooking, of the total ingredient mass [%]; negative where water is taken up."""
    lines: tuple[Line, ...]
    steps: tuple[str, ...] = ()
    serve_with: tuple[str, ...] = ()
    note: str = ""
    claims: tuple[tuple[str, float], ...] = ()
    """Nutrients per serving as the source prints them: key and value [that nutrient's unit], unchecked."""

    def line(self, line_id: str) -> Line:
        """Return the line named ``line_id``; KeyError where there is none."""
        for line in self.lines:
            if line.id == line_id:
                return line
        raise KeyError(line_id)

    def with_line(self, line: Line) -> Recipe:
        """Return a copy in which ``line`` stands in the place of the line of the same id."""
        return replace(self, lines=tuple(line if old.id == line.id else old for old in self.lines))

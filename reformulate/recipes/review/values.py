"""What a review gives: findings with their reason, how sure they are, and a fix where there is one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from reformulate.recipes.recipe import Recipe

SURE: Final = 0.85
"""Confidence from which a finding is sure [fraction]."""
LIKELY: Final = 0.6
"""Confidence from which it is likely [fraction]; below it is perhaps so."""


class Kind(StrEnum):
    """What a finding is about."""

    AMOUNTS = "amounts"
    """Two amounts of one line disagree."""
    FIGURE = "figure"
    """A metric figure belongs to another amount."""
    UNLISTED = "unlisted"
    """In the steps, not in the list."""
    UNUSED = "unused"
    """In the list, not in the steps."""
    LEFT_OUT = "left-out"
    """In the source, not in the recipe."""
    CLAIM = "claim"
    """A printed nutrient is not what the amounts come to."""
    SUM = "sum"
    """Printed energy is not the sum of the printed nutrients."""
    PORTION = "portion"
    """A serving is no portion of a dip."""
    UNIT = "unit"
    """A unit, or so much of it, does not fit the food."""
    SALT = "salt"
    """Salt that the sodium leaves out."""
    OIL = "oil"
    """Oil or another rich food that the energy leaves out."""
    DRAINED = "drained"
    """Drained or not is not clear."""
    TWICE = "twice"
    """A food is listed twice."""
    MOISTURE = "moisture"
    """The moisture loss does not fit the steps."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fix:
    """One way to put a finding right."""

    words: str
    """What the button says."""
    apply: Callable[[Recipe], Recipe]
    """Return the mended recipe; one that has changed meanwhile and no longer fits comes back as it
    was."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing to look at before print."""

    kind: Kind
    where: str
    """A line's id, ``step 3``, or "" for the whole recipe."""
    what: str
    """What was found, with its figures."""
    why: str
    """Why it matters, the tolerance it was judged by, and what to do."""
    confidence: float
    """How likely something is to be put right [fraction], 0 to 1."""
    gravity: float
    """How far the figures hang on it [fraction], 0 to 1."""
    fix: Fix | None = None

    @property
    def sureness(self) -> str:
        """The confidence in a word: sure, likely or perhaps."""
        if self.confidence >= SURE:
            return "sure"
        return "likely" if self.confidence >= LIKELY else "perhaps"

    @property
    def weight(self) -> float:
        """What findings are sorted by [fraction]: gravity by confidence."""
        return self.gravity * self.confidence

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        return f"{place}{self.what} {self.why}"

"""What matching gives: the foods a line may mean, best first, and whether to ask."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A food that a line may mean."""

    food: str
    """Key in the food table."""
    score: float
    """How well its names fit the words [points]; 100 where every word fits and none is missing."""
    confidence: float
    """How likely the line means this food [fraction], 0 to 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """The foods a line may mean."""

    ranked: tuple[Candidate, ...] = ()
    """Best first, at most five; empty where no food shares a word with the line."""
    sure: bool = False
    """Whether the first may be taken without asking."""
    why: str = ""
    """What spoke for the first food, and what is to be asked, in words."""

    @property
    def food(self) -> str | None:
        """Key of the best food; None where there is none."""
        return self.ranked[0].food if self.ranked else None

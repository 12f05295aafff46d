"""A recipe on its way in: what was read, what was decided, what is open."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from enum import Enum
from typing import Final

from reformulate.foods import FoodTable
from reformulate.measures import MeasureSystem
from reformulate.recipes.matching import Match
from reformulate.recipes.reading import ReadLine
from reformulate.recipes.reading.scan import BULLETS

_LIST_MARKS: Final = re.compile(rf"^[{BULLETS}\s]+")
_SHOWN: Final = 100


class Topic(Enum):
    """What a question is about."""

    SERVINGS = "servings"
    TITLE = "title"
    FOOD = "food"
    AMOUNT = "amount"
    LINE = "line"
    """Whether the line belongs to the recipe at all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One answer on offer; exactly one of its values is set."""

    words: str
    """What it says."""
    detail: str = ""
    """What follows from it, or why it is on offer."""
    food: str = ""
    """Key of a food."""
    amount: str = ""
    """With ``food``, the amount that goes with it."""
    servings: float | None = None
    """Servings [count]."""
    leaves_out: bool = False
    keeps: bool = False
    """Whether it only says that the reading is right."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What only a person can say."""

    topic: Topic
    words: str
    """The question, in plain words."""
    why: str = ""
    """What is known already, and why that is not enough."""
    line: int = -1
    """Place of the line among the intake's lines; -1 for the whole recipe."""
    consequence: float = 0.0
    """The largest share of the recipe's energy, sodium or mass that hangs on it [1]."""
    choices: tuple[Choice, ...] = ()
    """Answers on offer, likeliest first."""

    def __str__(self) -> str:
        return self.words


@dataclass(frozen=True, slots=True, kw_only=True)
class IntakeLine:
    """One food of one written line."""

    read: ReadLine
    match: Match
    part: int = 0
    """0 for the food a line names first, 1 for the second of "salt and pepper", and so on."""
    food: str = ""
    """Key in the food table: the best match until a person chooses; "" where there is none."""
    amount: str = ""
    """The amount for the recipe's line; "" where it is not known."""
    grams: float | None = None
    """What that weighs, edible [g]; None where it cannot be said."""
    route: str = ""
    """How the grams were come by, in words."""
    role: str = ""
    prep: str = ""
    skipped: bool = False
    """Whether it is left out of the recipe."""
    settled: frozenset[Topic] = frozenset()
    """What a person has decided."""
    role_chosen: bool = False
    questions: tuple[Question, ...] = ()
    said: tuple[str, ...] = ()
    """What was decided in the reading, in plain words."""

    @property
    def sure(self) -> bool:
        """Whether nothing about it is open."""
        return not self.questions

    @property
    def written(self) -> str:
        """The line as written, without the mark of a list, shortened where it is very long."""
        text = _LIST_MARKS.sub("", self.read.text.strip(), count=1)
        return text if len(text) <= _SHOWN else f"{text[: _SHOWN - 1]}…"

    @property
    def name(self) -> str:
        """What the line calls its food."""
        return self.read.food_text or self.read.match_text or self.read.text.strip()


@dataclass(frozen=True, slots=True, kw_only=True)
class Intake:
    """A recipe on its way in."""

    title: str
    servings: float | None
    """Servings [count]; None where it does not say."""
    servings_text: str = ""
    """The yield as written."""
    lines: tuple[IntakeLine, ...]
    steps: tuple[str, ...] = ()
    claims: tuple[tuple[str, float], ...] = ()
    """Nutrients per serving as the source prints them: key and value [our unit], unchecked."""
    notes: tuple[str, ...] = ()
    """What was left out, mended or guessed, in plain words."""
    title_given: bool = False
    """Whether a person wrote the title."""
    servings_given: bool = False
    """Whether a person said how many it serves."""
    questions: tuple[Question, ...] = ()
    """Those about the whole recipe; each line has its own."""
    foods: FoodTable = field(repr=False)
    """What the foods are chosen from."""
    system: MeasureSystem = field(repr=False)
    """Whose cups and spoons the amounts are written in."""

    @property
    def counted(self) -> tuple[IntakeLine, ...]:
        """The lines that are in the recipe."""
        return tuple(line for line in self.lines if not line.skipped)

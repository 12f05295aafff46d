"""What is wanted and what must stay: goals, holds, swaps. Frozen values, no arithmetic."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

LIVE_NUTRIENTS: Final = (
    "energy_kcal",
    "protein_g",
    "fat_g",
    "saturated_g",
    "carbohydrate_g",
    "sugars_g",
    "fibre_g",
    "sodium_mg",
)
"""The nutrients whose reach is shown unless the brief says otherwise."""

ENERGY_FACTORS: Final = {
    "protein_g": 4.0,
    "carbohydrate_g": 4.0,
    "sugars_g": 4.0,
    "added_sugars_g": 4.0,
    "fat_g": 9.0,
    "saturated_g": 9.0,
    "monounsaturated_g": 9.0,
    "polyunsaturated_g": 9.0,
}
"""Energy one gram counts for in a share of energy [kcal/g]; source: 21 CFR 101.9(c)(1)(i)(B)."""


class Per(StrEnum):
    """What a goal's limits are measured against."""

    SERVING = "serving"
    """Limits in the nutrient's unit per serving."""
    HUNDRED_GRAMS = "100g"
    """Limits in the nutrient's unit per 100 g of finished food."""
    ENERGY = "energy"
    """Limits in percent of the energy."""
    ORIGINAL = "original"
    """Limits in percent of what a serving of the original has."""


class Manner(StrEnum):
    """What "closest to the original" means."""

    FEWEST = "fewest"
    """The least sum of relative changes: few lines change, and much."""
    GENTLEST = "gentlest"
    """The least largest relative change, then the least sum: many lines change, each a little."""
    CHARACTER = "character"
    """The least change of taste and texture, then the least sum of relative changes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Goal:
    """Keep a quantity within limits: a must, or a wish that is met as far as the musts let it be."""

    nutrient: str
    """Key of a nutrient, a property of character, or cost."""
    at_least: float | None = None
    """Lowest value allowed [the unit ``per`` says]; None for no floor."""
    at_most: float | None = None
    """Highest value allowed [the unit ``per`` says]; None for no ceiling."""
    per: Per = Per.SERVING
    rank: int = 0
    """0 for a must; wishes are met in the order of their ranks, 1 first."""
    headroom: float = 0.0
    """How far inside its limits the amounts keep, as a fraction of each [1]: foods vary."""

    @property
    def is_wish(self) -> bool:
        """True where the goal gives way to musts, holds and wishes of a lower rank."""
        return self.rank > 0

    @property
    def lowest(self) -> float | None:
        """The floor the amounts keep, headroom counted [the unit ``per`` says]."""
        return None if self.at_least is None else self.at_least * (1.0 + self.headroom)

    @property
    def highest(self) -> float | None:
        """The ceiling the amounts keep, headroom counted [the unit ``per`` says]."""
        return None if self.at_most is None else self.at_most * (1.0 - self.headroom)


@dataclass(frozen=True, slots=True, kw_only=True)
class RatioHold:
    """Keep mass(``of``) : mass(``to``) near a ratio.

    A group is a tuple of line ids and of roles, a role written ``role:base``. A swap counts as the
    mass it stands in for.
    """

    of: tuple[str, ...]
    to: tuple[str, ...]
    ratio: float | None = None
    """The ratio to keep [g/g]; None for the original's."""
    tolerance: float = 0.15
    """How far the ratio may move either way, as a fraction of it [1]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchHold:
    """Keep the finished mass of the batch, so that a serving stays the same size."""

    tolerance: float = 0.02
    """How far it may move either way, as a fraction of the original's [1]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LineHold:
    """Keep one line within limits. A tolerance of 0 is a lock."""

    line: str
    tolerance: float | None = None
    """How far the mass may move either way, as a fraction of the original's [1]."""
    least: float | None = None
    """Least mass [g]."""
    most: float | None = None
    """Most mass [g]."""

    @property
    def locked(self) -> bool:
        """True where the line keeps the original's mass exactly."""
        return self.tolerance == 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RoleHold:
    """Keep the mass of all lines of one role, swaps counted as the mass they stand in for."""

    role: str
    tolerance: float = 0.15
    """How far the mass may move either way, as a fraction of the original's [1]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CharacterHold:
    """Keep a property of taste or texture per 100 g of finished food: near the original's, or in a band."""

    quality: str
    """Key of the property: ``saltiness``, ``body``."""
    tolerance: float | None = None
    """How far it may move either way, as a fraction of the original's [1]."""
    at_least: float | None = None
    """Lowest value [the property's unit per 100 g]."""
    at_most: float | None = None
    """Highest value [the property's unit per 100 g]."""


Hold = RatioHold | BatchHold | LineHold | RoleHold | CharacterHold


def subject_of(hold: Hold) -> object:
    """Return what a hold is on: two holds with the same subject would leave open which one counts."""
    match hold:
        case RatioHold(of=of, to=to):
            return ("ratio", frozenset(of), frozenset(to))
        case LineHold(line=line):
            return ("line", line)
        case RoleHold(role=role):
            return ("role", role)
        case CharacterHold(quality=quality):
            return ("character", quality)
        case BatchHold():
            return "batch"


@dataclass(frozen=True, slots=True, kw_only=True)
class Swap:
    """A food that may stand in for one line or several."""

    food: str
    stands_in_for: tuple[str, ...]
    """Ids of the lines it may replace."""
    grams_per_gram: float = 1.0
    """Grams of it that do the work of one gram of what it replaces [g/g]."""
    largest_share: float = 1.0
    """Most of the lines' original mass it may replace [1]."""
    least: float | None = None
    """Least mass of it, if any is used [g]; None for a tablespoon, or a tenth of what it stands in for
    where that is less."""
    caution: str = ""
    allowed: bool = True
    """False keeps the swap in the list without letting it into the answer."""
    pinned: bool = False
    """True where an answer has to use it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Brief:
    """Goals, holds and swaps for one recipe."""

    aim: str = ""
    """What the brief is for, in a few words."""
    goals: tuple[Goal, ...] = ()
    holds: tuple[Hold, ...] = ()
    swaps: tuple[Swap, ...] = ()
    swap_band: float = 0.15
    """How far a group of lines with swaps may move in functional mass either way [1]."""
    max_swaps: int | None = None
    """Most swaps an answer may use [count]; None for any number."""
    manner: Manner = Manner.FEWEST
    shown: tuple[str, ...] = LIVE_NUTRIENTS
    """Nutrients whose reach is shown, in this order."""
    shown_per: Per = Per.SERVING
    """The unit reach is shown in where a nutrient has no goal."""

    def goal_on(self, nutrient: str) -> Goal | None:
        """Return the first goal on a nutrient, or None."""
        return next((goal for goal in self.goals if goal.nutrient == nutrient), None)

    def unit_of(self, nutrient: str) -> Per:
        """Return the unit a nutrient is shown in: its goal's, else the one chosen for all.

        A nutrient that has no share of energy is shown per serving where shares are chosen.
        """
        goal = self.goal_on(nutrient)
        if goal:
            return goal.per
        if self.shown_per is Per.ENERGY and nutrient not in ENERGY_FACTORS:
            return Per.SERVING
        return self.shown_per

    def with_goal(self, goal: Goal) -> Brief:
        """Return a copy in which ``goal`` is the only goal on its nutrient."""
        goals = list(self.goals)
        at = next((i for i, old in enumerate(goals) if old.nutrient == goal.nutrient), len(goals))
        goals[at : at + 1] = [goal]
        kept = [g for i, g in enumerate(goals) if i == at or g.nutrient != goal.nutrient]
        return replace(self, goals=tuple(kept))

    def without_goal(self, nutrient: str) -> Brief:
        """Return a copy with no goal on ``nutrient``."""
        return replace(self, goals=tuple(g for g in self.goals if g.nutrient != nutrient))

    def hold_on(self, line_id: str) -> LineHold | None:
        """Return the hold on a line, or None."""
        for hold in self.holds:
            if isinstance(hold, LineHold) and hold.line == line_id:
                return hold
        return None

    def with_line_hold(self, line_id: str, hold: LineHold | None) -> Brief:
        """Return a copy in which ``hold`` is the only hold on the line; None frees it."""
        rest = tuple(
            old for old in self.holds if not (isinstance(old, LineHold) and old.line == line_id)
        )
        return replace(self, holds=rest if hold is None else (*rest, hold))

"""What a goal card shows of one nutrient, taken from an answer."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import isfinite

from reformulate import ENERGY_FACTORS as FACTORS
from reformulate import (
    Answer,
    Goal,
    Per,
    Reach,
    level,
    limit_words,
    per_words,
    quantity,
    quantity_named,
    reach_ends,
    unknown_foods,
)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Levels:
    """Goal, reach and levels of one nutrient, in the unit of its goal."""

    answer: Answer
    nutrient: str
    per: Per
    at_least: float | None
    at_most: float | None
    reach_low: float
    reach_high: float
    achieved: float
    original: float
    met: bool
    goal: Goal | None
    headroom_grams: float | None
    unknown: tuple[str, ...]

    @property
    def _finer(self) -> int:
        """One decimal more where the goal is missed: level and reach meet there, and must agree."""
        return 0 if self.met else 1

    @property
    def name(self) -> str:
        """Name of the nutrient."""
        return quantity_named(self.nutrient).name

    @property
    def has_goal(self) -> bool:
        """Whether any limit is set."""
        return self.at_least is not None or self.at_most is not None

    @property
    def decimals(self) -> int:
        """Decimals of limits and levels [count]."""
        return (
            0 if self.per in (Per.ENERGY, Per.ORIGINAL) else quantity_named(self.nutrient).decimals
        )

    @property
    def unit(self) -> str:
        """Unit of limits and levels."""
        return "%" if self.per in (Per.ENERGY, Per.ORIGINAL) else quantity_named(self.nutrient).unit

    @property
    def per_words(self) -> str:
        """What the levels are measured against."""
        return per_words(self.per)

    def write(self, value: float) -> str:
        """Write a level without its unit."""
        return f"{value:.{self.decimals}f}" if isfinite(value) else "no end"

    def write_limit(self, value: float) -> str:
        """Write a limit without its unit, with the decimals it was given."""
        return limit_words(value, self.nutrient, self.per)

    @property
    def reach_words(self) -> str:
        """The reach in words."""
        low, high = reach_ends(
            Reach(nutrient=self.nutrient, per=self.per, low=self.reach_low, high=self.reach_high),
            finer=self._finer,
        )
        any_swaps = " with any swaps" if self.answer.brief.max_swaps is not None else ""
        return f"reach{any_swaps} {low} – {high}"

    @property
    def goal_notes(self) -> str:
        """What is special about the goal: its rank as a wish, its headroom; empty for a plain must."""
        goal, notes = self.goal, []
        if goal is not None and goal.is_wish:
            notes.append(f"wish {goal.rank}")
        if goal is not None and goal.headroom:
            cost = ""
            if self.headroom_grams is not None:
                more = "more" if self.headroom_grams >= 0 else "less"
                cost = f" moves {abs(self.headroom_grams):.0f} g {more}"
            notes.append(f"{goal.headroom * 100:g} % headroom{cost}")
        return "".join(f"{note} · " for note in notes)

    @property
    def original_words(self) -> str:
        """What the original has, and what it is measured against unless that is a serving."""
        if self.per is Per.ORIGINAL:
            return "of the original"
        per = "" if self.per is Per.SERVING else f"{self.per_words} · "
        return f"{per}original {self.write(self.original)}"

    @property
    def achieved_words(self) -> str:
        """What the amounts shown have, with its unit."""
        words = quantity(self.achieved, self.nutrient, self.per, finer=self._finer)
        return f"at least {words}" if self.unknown else words

    @property
    def unknown_words(self) -> str:
        """Which foods have no figure; empty where all do."""
        if not self.unknown:
            return ""
        return f"Not known for: {', '.join(self.unknown)}. The total is at least what is shown."

    @property
    def scale(self) -> float:
        """What the groove has to span: the original with room, and the reach as far as is sensible."""
        reach = self.reach_high if isfinite(self.reach_high) else 0.0
        span = max(self.original, self.achieved, 10.0**-self.decimals)
        return max(1.3 * span, min(reach, 2.2 * span))

    @property
    def scale_key(self) -> object:
        """Changes when the groove may change its span: never while a handle moves."""
        return (
            self.answer.batch.recipe,
            self.answer.brief.holds,
            self.answer.items.swaps,
            self.per,
        )

    def can_be(self, per: Per) -> bool:
        """Return whether a goal on this nutrient can be measured against ``per``."""
        return per is not Per.ENERGY or self.nutrient in FACTORS

    def converted(self, per: Per) -> Goal:
        """Return the goal in another unit, its limits as far from the original as they are now."""
        items, servings = self.answer.items, self.answer.original.servings
        original = level(self.nutrient, per, items.original, items, servings)
        factor = original / self.original if self.original else 1.0
        decimals = (
            0 if per in (Per.ENERGY, Per.ORIGINAL) else quantity_named(self.nutrient).decimals
        )

        def converted(limit: float | None) -> float | None:
            return None if limit is None else round(limit * factor, decimals)

        return replace(
            self.goal or Goal(nutrient=self.nutrient),
            at_least=converted(self.at_least),
            at_most=converted(self.at_most),
            per=per,
        )


def levels_of(answer: Answer, key: str, headroom_grams: float | None = None) -> Levels:
    """Return what to show of a nutrient in an answer, and what its goal's headroom moves [g]."""
    goal = answer.brief.goal_on(key)
    per = answer.brief.unit_of(key)
    items, servings = answer.items, answer.original.servings
    reach = answer.reach_of(key)
    result = next((result for result in answer.goals if result.goal is goal), None)
    used = tuple(
        item for item, grams in zip(items.ingredients, answer.grams, strict=True) if grams > 0
    )
    return Levels(
        answer=answer,
        nutrient=key,
        per=per,
        at_least=goal.at_least if goal else None,
        at_most=goal.at_most if goal else None,
        reach_low=reach.low if reach else 0.0,
        reach_high=reach.high if reach else 0.0,
        achieved=level(key, per, answer.grams, items, servings),
        original=level(key, per, items.original, items, servings),
        met=result is None or result.met,
        goal=goal,
        headroom_grams=headroom_grams,
        unknown=unknown_foods(used, key),
    )

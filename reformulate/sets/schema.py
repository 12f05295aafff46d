"""What a set's files hold, as records: the shape, before any value is judged."""

from __future__ import annotations

from typing import Final

from msgspec import Struct

from reformulate.brief import LIVE_NUTRIENTS, Manner, Per

FORMAT: Final = 1
"""The number every file of a set states; a release that changes the shape counts it up."""

SET_FILE: Final = "set.toml"


class LineRecord(Struct, kw_only=True, frozen=True):
    """One ``[[line]]``; without an id it is called by its food."""

    food: str
    amount: str = ""
    grams: float | None = None
    role: str = "base"
    prep: str = ""
    retention: int | None = None
    as_bought: bool = False
    text: str = ""
    id: str = ""


class GoalRecord(Struct, kw_only=True, frozen=True):
    """One ``[[brief.goal]]``."""

    nutrient: str
    at_least: float | None = None
    at_most: float | None = None
    per: Per = Per.SERVING
    rank: int = 0
    headroom: float = 0.0


class RatioHoldRecord(Struct, kw_only=True, frozen=True, tag_field="kind", tag="ratio"):
    """A ``[[brief.hold]]`` of the kind "ratio"."""

    of: tuple[str, ...]
    to: tuple[str, ...]
    ratio: float | None = None
    tolerance: float = 0.15


class BatchHoldRecord(Struct, kw_only=True, frozen=True, tag_field="kind", tag="batch"):
    """A ``[[brief.hold]]`` of the kind "batch"."""

    tolerance: float = 0.02


class LineHoldRecord(Struct, kw_only=True, frozen=True, tag_field="kind", tag="line"):
    """A ``[[brief.hold]]`` of the kind "line"."""

    line: str
    tolerance: float | None = None
    least: float | None = None
    most: float | None = None


class RoleHoldRecord(Struct, kw_only=True, frozen=True, tag_field="kind", tag="role"):
    """A ``[[brief.hold]]`` of the kind "role"."""

    role: str
    tolerance: float = 0.15


class CharacterHoldRecord(Struct, kw_only=True, frozen=True, tag_field="kind", tag="character"):
    """A ``[[brief.hold]]`` of the kind "character"."""

    quality: str
    tolerance: float | None = None
    at_least: float | None = None
    at_most: float | None = None


HoldRecord = (
    RatioHoldRecord | BatchHoldRecord | LineHoldRecord | RoleHoldRecord | CharacterHoldRecord
)


class SwapRecord(Struct, kw_only=True, frozen=True):
    """One ``[[brief.swap]]``."""

    food: str
    stands_in_for: tuple[str, ...]
    grams_per_gram: float = 1.0
    largest_share: float = 1.0
    least: float | None = None
    caution: str = ""
    allowed: bool = True
    pinned: bool = False


class ClaimRecord(Struct, kw_only=True, frozen=True):
    """One ``[[claim]]``: a nutrient per serving as the recipe's source prints it."""

    nutrient: str
    value: float


class BriefRecord(Struct, kw_only=True, frozen=True):
    """The ``[brief]`` table."""

    aim: str = ""
    shown: tuple[str, ...] = LIVE_NUTRIENTS
    shown_per: Per = Per.SERVING
    manner: Manner = Manner.FEWEST
    swap_band: float = 0.15
    max_swaps: int | None = None
    goal: tuple[GoalRecord, ...] = ()
    hold: tuple[HoldRecord, ...] = ()
    swap: tuple[SwapRecord, ...] = ()


class RecipeRecord(Struct, kw_only=True, frozen=True):
    """A recipe file."""

    format: int
    title: str
    servings: float
    moisture_loss_percent: float = 0.0
    note: str = ""
    steps: tuple[str, ...] = ()
    serve_with: tuple[str, ...] = ()
    claim: tuple[ClaimRecord, ...] = ()
    line: tuple[LineRecord, ...] = ()
    brief: BriefRecord | None = None


class PriceRecord(Struct, kw_only=True, frozen=True):
    """One ``[[price]]`` of a set: what so much of a food costs."""

    food: str
    price: float
    amount: str


class ExchangeRecord(Struct, kw_only=True, frozen=True):
    """One ``[[exchange]]`` of a set: the user's own page of the swap book."""

    replaces: tuple[str, ...]
    food: str
    kind: str = "own"
    grams_per_gram: float = 1.0
    largest_share: float = 1.0
    effect: str = ""
    caution: str = ""
    source: str = "own"


class MatchRecord(Struct, kw_only=True, frozen=True):
    """One ``[[match]]`` of a set: which food the user's words for an ingredient mean."""

    words: str
    food: str


class SetRecord(Struct, kw_only=True, frozen=True):
    """A set file."""

    format: int
    title: str
    note: str = ""
    measures: str = "us"
    recipes: tuple[str, ...] = ()
    currency: str = ""
    price: tuple[PriceRecord, ...] = ()
    exchange: tuple[ExchangeRecord, ...] = ()
    match: tuple[MatchRecord, ...] = ()

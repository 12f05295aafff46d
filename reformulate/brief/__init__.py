"""The brief: goals, holds and swaps for one recipe."""

from reformulate.brief.brief import (
    ENERGY_FACTORS,
    LIVE_NUTRIENTS,
    BatchHold,
    Brief,
    CharacterHold,
    Goal,
    Hold,
    LineHold,
    Manner,
    Per,
    RatioHold,
    RoleHold,
    Swap,
)
from reformulate.brief.check import brief_problems, goal_problems
from reformulate.brief.defaults import starting_brief
from reformulate.brief.groups import group_words, lines_in

__all__ = [
    "ENERGY_FACTORS",
    "LIVE_NUTRIENTS",
    "BatchHold",
    "Brief",
    "CharacterHold",
    "Goal",
    "Hold",
    "LineHold",
    "Manner",
    "Per",
    "RatioHold",
    "RoleHold",
    "Swap",
    "brief_problems",
    "goal_problems",
    "group_words",
    "lines_in",
    "starting_brief",
]

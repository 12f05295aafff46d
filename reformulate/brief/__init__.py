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
    subject_of,
)
from reformulate.brief.candidates import Candidate, candidate_swaps
from reformulate.brief.check import brief_problems, goal_problems
from reformulate.brief.defaults import starting_brief
from reformulate.brief.groups import group_words, lines_in
from reformulate.brief.limits import Limits, read_limits, write_limits
from reformulate.brief.swap_book import Exchange, exchanges_for, swap_book, swap_for

__all__ = [
    "ENERGY_FACTORS",
    "LIVE_NUTRIENTS",
    "BatchHold",
    "Brief",
    "Candidate",
    "CharacterHold",
    "Exchange",
    "Goal",
    "Hold",
    "Limits",
    "LineHold",
    "Manner",
    "Per",
    "RatioHold",
    "RoleHold",
    "Swap",
    "brief_problems",
    "candidate_swaps",
    "exchanges_for",
    "goal_problems",
    "group_words",
    "lines_in",
    "read_limits",
    "starting_brief",
    "subject_of",
    "swap_book",
    "swap_for",
    "write_limits",
]

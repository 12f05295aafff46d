"""The optimiser: model, warm engine, reach, nearest answer, certificate."""

from reformulate.optimise.answer import Answer, GoalResult, HoldShortfall, ItemAmount, Status
from reformulate.optimise.certificate import Certificate, certify
from reformulate.optimise.conflict import Conflict, WayOut, find_conflict
from reformulate.optimise.engine import Engine, Outcome, Solution, SolverStopped, solve_program
from reformulate.optimise.levels import level
from reformulate.optimise.optimiser import Optimiser, solve
from reformulate.optimise.program import LinearProgram, linear_program
from reformulate.optimise.reach import Reach
from reformulate.optimise.second_opinion import second_opinion
from reformulate.optimise.words import (
    goal_words,
    limit_words,
    per_words,
    percent_words,
    quantity,
    reach_ends,
    shortfall_words,
    state_sentence,
    unknown_sentence,
)
from reformulate.optimise.written import grams_words, household_words

__all__ = [
    "Answer",
    "Certificate",
    "Conflict",
    "Engine",
    "GoalResult",
    "HoldShortfall",
    "ItemAmount",
    "LinearProgram",
    "Optimiser",
    "Outcome",
    "Reach",
    "Solution",
    "SolverStopped",
    "Status",
    "WayOut",
    "certify",
    "find_conflict",
    "goal_words",
    "grams_words",
    "household_words",
    "level",
    "limit_words",
    "linear_program",
    "per_words",
    "percent_words",
    "quantity",
    "reach_ends",
    "second_opinion",
    "shortfall_words",
    "solve",
    "solve_program",
    "state_sentence",
    "unknown_sentence",
]

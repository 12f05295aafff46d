"""The optimiser: model, warm engine, reach, nearest answer, certificate."""

from reformulate.optimise.answer import (
    Answer,
    GoalResult,
    HoldShortfall,
    ItemAmount,
    Measured,
    Status,
)
from reformulate.optimise.certificate import Certificate, certify
from reformulate.optimise.character import (
    CharacterLevel,
    character_change_words,
    character_of,
    character_sentence,
)
from reformulate.optimise.conflict import Conflict, WayOut, find_conflict
from reformulate.optimise.curve_words import (
    CurveRow,
    curve_axis,
    curve_is_known,
    curve_name,
    curve_table,
    curve_unit,
    curve_unknown_sentence,
    exactness_sentence,
    knee_sentence,
    moved_words,
    point_words,
    unbounded_sentence,
)
from reformulate.optimise.efficient import Unbounded
from reformulate.optimise.engine import Engine, Outcome, Solution, SolverStopped, solve_program
from reformulate.optimise.explore import Prospect, explore
from reformulate.optimise.gives import Give, Stopped, what_gives
from reformulate.optimise.gives_words import GiveWords, give_words, gives_heading
from reformulate.optimise.headroom import HeadroomCost, headroom_costs
from reformulate.optimise.item_names import short_names
from reformulate.optimise.levels import level
from reformulate.optimise.levers import Lever
from reformulate.optimise.measured import measured_answer
from reformulate.optimise.optimiser import Optimiser, solve
from reformulate.optimise.program import LinearProgram, linear_program
from reformulate.optimise.prospect_words import (
    changes_words,
    prospect_words,
    result_words,
    taste_words,
)
from reformulate.optimise.reach import Reach
from reformulate.optimise.second_opinion import second_opinion
from reformulate.optimise.trade_off import (
    CHANGE,
    TradeOff,
    TradeOffPoint,
    curve_level,
    more_is_better,
    trade_off,
    with_point,
)
from reformulate.optimise.whole_table import StandIn, TableSearch, search_table
from reformulate.optimise.words import (
    goal_words,
    limit_words,
    per_words,
    percent_words,
    quantity,
    reach_ends,
    shortfall_words,
    spoken,
    state_sentence,
    unknown_sentence,
)
from reformulate.optimise.written import grams_words, household_words, original_words

__all__ = [
    "CHANGE",
    "Answer",
    "Certificate",
    "CharacterLevel",
    "Conflict",
    "CurveRow",
    "Engine",
    "Give",
    "GiveWords",
    "GoalResult",
    "HeadroomCost",
    "HoldShortfall",
    "ItemAmount",
    "Lever",
    "LinearProgram",
    "Measured",
    "Optimiser",
    "Outcome",
    "Prospect",
    "Reach",
    "Solution",
    "SolverStopped",
    "StandIn",
    "Status",
    "Stopped",
    "TableSearch",
    "TradeOff",
    "TradeOffPoint",
    "Unbounded",
    "WayOut",
    "certify",
    "changes_words",
    "character_change_words",
    "character_of",
    "character_sentence",
    "curve_axis",
    "curve_is_known",
    "curve_level",
    "curve_name",
    "curve_table",
    "curve_unit",
    "curve_unknown_sentence",
    "exactness_sentence",
    "explore",
    "find_conflict",
    "give_words",
    "gives_heading",
    "goal_words",
    "grams_words",
    "headroom_costs",
    "household_words",
    "knee_sentence",
    "level",
    "limit_words",
    "linear_program",
    "measured_answer",
    "more_is_better",
    "moved_words",
    "original_words",
    "per_words",
    "percent_words",
    "point_words",
    "prospect_words",
    "quantity",
    "reach_ends",
    "result_words",
    "search_table",
    "second_opinion",
    "short_names",
    "shortfall_words",
    "solve",
    "solve_program",
    "spoken",
    "state_sentence",
    "taste_words",
    "trade_off",
    "unbounded_sentence",
    "unknown_sentence",
    "what_gives",
    "with_point",
]

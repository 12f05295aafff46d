"""What every reader of a release gives: one food with its figures."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from reformulate.foods.nutrients import NUTRIENTS
from reformulate.foods.store.figures import UNKNOWN, impossible
from reformulate.foods.store.tally import Tally
from reformulate.foods.table import Food

STANDARD_REFERENCE: Final = "Standard Reference"
FOUNDATION: Final = "Foundation"
SR_LEGACY: Final = "SR Legacy"
SURVEY: Final = "Survey (FNDDS)"
BRANDED: Final = "Branded"


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """One food of a release."""

    kind: str
    """Which collection it belongs to: one of the five names above."""
    food: Food
    figures: tuple[float, ...]
    """(30,) [each nutrient's unit per 100 g edible portion], nan where unknown."""


def usable_figures(
    figures: tuple[float, ...], tally: Tally, place: str
) -> tuple[float, ...] | None:
    """Return ``figures`` with those that nothing can hold taken as unknown; None where none is left.

    Either is noted.
    """
    wrong = impossible(figures)
    for column in wrong:
        name = NUTRIENTS[column].spoken
        tally.skip(f"More {name} than 100 g can hold: taken as unknown.", place)
    left = tuple(UNKNOWN if i in wrong else figure for i, figure in enumerate(figures))
    if all(map(math.isnan, left)):
        tally.skip("There are no figures for it.", place)
        return None
    return left


def release_name(path: Path, pattern: str, shown: str) -> str:
    """Return the release that the name of a download tells, else that name.

    Parameters
    ----------
    path
        The download.
    pattern
        What to look for, with one group.
    shown
        How to write it, with ``{}`` for the group.
    """
    for name in (path.name, path.resolve().parent.name):
        if match := re.search(pattern, name, re.IGNORECASE):
            return shown.format(match[1])
    return path.name

"""How much of each vitamin and mineral is left after cooking.

Factors are those of the U.S. Department of Agriculture's Table of Nutrient Retention Factors,
release 6 (2007); the wording of the methods is ours. Water, energy, protein, fat, carbohydrate,
fibre, sugars, cholesterol and the vitamins D, E and K have no factor there and are kept whole.

Vitamin A takes the factor of retinol equivalents, folate that of total folate (food folate and
folic acid have the same factor everywhere). Code 5005 (wine, beer or spirits, 30 min) has only an
alcohol factor there, so nothing is taken off.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from reformulate.errors import BadInput, Problem
from reformulate.foods.nutrients import INDEX, NUTRIENTS

_FILE = Path(__file__).with_name("retention.csv")
_NEAR_CODES = 3  # codes an error offers


def retention_factors(code: int) -> NDArray[np.float64]:
    """Return what is left of each nutrient after the method ``code`` names.

    Parameters
    ----------
    code
        Retention code of release 6, such as 3460 for roots, sautéed.

    Returns
    -------
    NDArray
        (30,) [fraction], in the order of NUTRIENTS, read-only; 1 where there is no factor.

    Raises
    ------
    BadInput
        No method has that code; the fix names the nearest codes.
    """
    return _entry(code)[1]


def retention_words(code: int) -> str:
    """Return the method ``code`` names in words, "roots and similar, sautéed"; errors as above."""
    return _entry(code)[0]


def retention_codes() -> tuple[int, ...]:
    """Return every retention code, ascending."""
    return tuple(_table())


def _entry(code: int) -> tuple[str, NDArray[np.float64]]:
    table = _table()
    if code not in table:
        near = sorted(sorted(table, key=lambda known: abs(known - code))[:_NEAR_CODES])
        offers = ", ".join(f"{known} ({table[known][0]})" for known in near)
        raise BadInput(
            Problem(
                where=f"retention code {code}",
                what="There is no such code in release 6.",
                fix=f"The nearest codes are {offers}.",
            )
        )
    return table[code]


@cache
def _table() -> dict[int, tuple[str, NDArray[np.float64]]]:
    with _FILE.open(encoding="utf-8", newline="") as file:
        rows = csv.reader(file)
        columns = [INDEX[key] for key in next(rows)[2:]]
        return {int(row[0]): (row[1], _factors(columns, row[2:])) for row in rows}


def _factors(columns: list[int], percents: list[str]) -> NDArray[np.float64]:
    factors = np.ones(len(NUTRIENTS))
    # Blank means that the release gives none.
    factors[columns] = [float(text or 100) / 100 for text in percents]
    factors.setflags(write=False)
    return factors

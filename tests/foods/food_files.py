"""The package's tables as text, and the shared data where it is."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
DATA = ROOT.parent / "shared" / "data"
FOODS = ROOT / "reformulate" / "foods"

Row = dict[str, str]


@cache
def rows_of(name: str) -> list[Row]:
    """Rows of one of the package's tables, by column name."""
    with (FOODS / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def shared_file(name: str) -> Path:
    """A file of the shared data; skips the test where it is absent."""
    path = DATA / name
    if not path.exists():
        pytest.skip(f"the shared data file {name} is not here")
    return path


@cache
def release_28() -> dict[str, Row]:
    """Rows of release 28 by NDB number."""
    with shared_file("sr28/abbrev.csv").open(encoding="utf-8", newline="") as file:
        return {row["NDB_No"]: row for row in csv.DictReader(file)}


@cache
def weights_26() -> dict[tuple[str, int], tuple[float, str, float]]:
    """Household weights of release 26: (NDB number, sequence) to (amount, wording, grams)."""
    weights = {}
    for line in shared_file("sr26/WEIGHT.txt").read_text("latin-1").splitlines():
        ndb, seq, amount, wording, grams, *_ = line.split("^")
        key = ndb.strip("~"), int(seq)
        weights[key] = float(amount), wording.strip("~"), float(grams)
    return weights

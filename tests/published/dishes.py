"""Published dishes as recipes of ours, and the shared data they come from where it is here."""

from __future__ import annotations

import csv
import tomllib
from collections import defaultdict
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from reformulate import (
    NUTRIENTS,
    SYSTEMS,
    FoodTable,
    Line,
    Nutrition,
    Recipe,
    food_table,
    nutrition_of,
    read_release,
    weigh_recipe,
)

HERE = Path(__file__).parent
DATA = HERE.parents[2] / "shared" / "data"
RELEASE = DATA / "sr28" / "abbrev.csv"
ALL_DISHES = DATA / "fndds_2017_2018"

COLUMN = {nutrient.key: i for i, nutrient in enumerate(NUTRIENTS)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Dish:
    """One published dish."""

    code: str
    words: str
    moisture_change: float
    """Percent of all ingredients; negative where water is lost [%]."""
    lines: tuple[tuple[str, float, int], ...]
    """NDB number, grams [g], retention code (0 for none)."""
    per_100g: dict[str, float]
    """Published figures by nutrient key [nutrient unit per 100 g]."""

    def __str__(self) -> str:
        return f"{self.code} {self.words}".strip()

    @property
    def recipe(self) -> Recipe:
        """The dish as a cook would write it here."""
        return Recipe(
            title=self.code,
            servings=1,
            moisture_loss_percent=-self.moisture_change,
            lines=tuple(
                Line(
                    id=f"{number} {ndb}",
                    food=f"ndb:{ndb}",
                    grams=grams,
                    retention=retention or None,
                )
                for number, (ndb, grams, retention) in enumerate(self.lines, start=1)
            ),
        )

    def missing(self, foods: FoodTable) -> list[str]:
        """NDB numbers of the foods that ``foods`` has not."""
        return [ndb for ndb, _, _ in self.lines if f"ndb:{ndb}" not in foods]

    def computed(self, foods: FoodTable) -> Nutrition:
        """The dish by our own calculation."""
        return nutrition_of(weigh_recipe(self.recipe, foods, SYSTEMS["us"]))

    def figure(self, key: str, foods: FoodTable) -> float:
        """One nutrient by our own calculation [nutrient unit per 100 g]."""
        return float(self.computed(foods).per_100g[COLUMN[key]])


@cache
def foods_here() -> FoodTable:
    """The program's own foods, and those of release 28 where the shared data is here."""
    own = food_table()
    return own.merged(read_release(RELEASE)) if RELEASE.exists() else own


@cache
def _document() -> dict[str, Any]:
    with (HERE / "usda_dishes.toml").open("rb") as file:
        return tomllib.load(file)


@cache
def typed_dishes() -> tuple[Dish, ...]:
    """The dishes nearest to dips, spreads and what goes with them, typed in beside this file."""
    document = _document()
    return tuple(
        Dish(
            code=row["code"],
            words=row["words"],
            moisture_change=row["moisture_change"],
            lines=tuple((ndb, float(grams), code) for ndb, grams, code in row["lines"]),
            per_100g=dict(zip(document["nutrients"], row["per_100g"], strict=True)),
        )
        for row in document["dish"]
    )


@cache
def revised() -> frozenset[tuple[str, str]]:
    """(NDB number, nutrient) of the rows that were revised after release 28."""
    rows = _document()["revision"]
    return frozenset((row["ndb"], key) for row in rows for key in row["nutrients"])


def shared_dishes() -> tuple[Dish, ...]:
    """All dishes of the shared data; none where it is absent."""
    if not ALL_DISHES.exists():
        return ()
    lines = defaultdict(list)
    for row in _rows(ALL_DISHES / "ingredients.csv"):
        line = (row["ndb_no"], float(row["grams"]), int(row["retention_code"]))
        lines[row["food_code"]].append(line)
    return tuple(
        Dish(
            code=row["food_code"],
            words="",
            moisture_change=float(row["moisture_change_percent"]),
            lines=tuple(lines[row["food_code"]]),
            per_100g={key: float(text) for key, text in row.items() if key in COLUMN},
        )
        for row in _rows(ALL_DISHES / "dishes.csv")
    )


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))

"""What a person reads in each of the whole recipes beside this file."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

HERE = Path(__file__).parent
TEXTS = (".txt", ".html")


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedLine:
    """One food of one line."""

    quantity: tuple[float, ...]
    """A number or the ends of a range; () where the text gives none."""
    unit: str
    """Canonical unit word, "piece" for a count, "" for none; else the word as written."""
    food: str
    """The words of the food."""
    keys: frozenset[str]
    """Foods of the table of which the first found must be one; empty where it has none."""
    ask: bool
    """Whether only a question is right."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedRecipe:
    """One recipe of a text."""

    titles: frozenset[str]
    """Each is right."""
    servings: float | None
    steps: frozenset[int]
    """How many there may be [count]."""
    measures: str
    lines: tuple[ExpectedLine, ...]
    planted: tuple[tuple[str, str], ...]
    """Errors that the review has to find: its kind and a word of the finding."""
    fair: tuple[tuple[str, str], ...] = ()
    """Findings that are right although nobody planted them: no moisture loss in a baked dish."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WholeText:
    """A text and what a person reads in it."""

    path: Path
    recipes: tuple[ExpectedRecipe, ...]


def texts(batch: str) -> list[WholeText]:
    """Return every text of a folder, by name."""
    found = [path for path in sorted((HERE / batch).iterdir()) if path.suffix in TEXTS]
    return [WholeText(path=path, recipes=_recipes(path.with_suffix(".toml"))) for path in found]


def _recipes(path: Path) -> tuple[ExpectedRecipe, ...]:
    with path.open("rb") as file:
        tables = tomllib.load(file)["recipe"]
    return tuple(
        ExpectedRecipe(
            titles=frozenset({table["title"], *table.get("title_or", ())}),
            servings=table.get("servings"),
            steps=frozenset(_listed(table["steps"])),
            measures=table.get("measures", "us"),
            lines=tuple(_line(row) for row in table["lines"]),
            planted=tuple(_pair(each) for each in table.get("planted", ())),
            fair=tuple(_pair(each) for each in table.get("fair", ())),
        )
        for table in tables
    )


def _listed(value: int | list[int]) -> list[int]:
    return value if isinstance(value, list) else [value]


def _pair(text: str) -> tuple[str, str]:
    kind, _, word = text.partition("|")
    return kind, word


def _line(row: str) -> ExpectedLine:
    quantity, unit, food, keys = (part.strip() for part in row.split("|"))
    ask = keys.startswith("ask:")
    return ExpectedLine(
        quantity=tuple(_number(end) for end in quantity.split("-") if end),
        unit=unit,
        food=food,
        keys=frozenset(keys.removeprefix("ask:").split()),
        ask=ask,
    )


def _number(text: str) -> float:
    return float(sum(Fraction(part) for part in text.split()))

"""How well ingredient lines are read, measured on lines that others have marked.

``python -m tests.recipes.corpus [FILE]`` prints the figures for a file of tab-separated columns
recipe, line, quantity, unit, food. Several marks of one kind are joined by "|".
"""

from __future__ import annotations

import csv
import hashlib
import math
import re
import sys
import time
import unicodedata
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from reformulate.recipes.reading import ReadLine, corpus_fields, read_line

DEFAULT = Path(__file__).parents[3] / "shared" / "data" / "tasteset_dev" / "lines.tsv"


@dataclass(frozen=True)
class Marked:
    recipe: str
    line: str
    quantity: str
    unit: str
    food: str

    @property
    def is_held_out(self) -> bool:
        """A third of the recipes, by a number that has nothing to do with what is in them."""
        return hashlib.md5(self.recipe.encode(), usedforsecurity=False).digest()[0] % 3 == 0


@dataclass(frozen=True)
class Figures:
    lines: int
    quantity: float
    """Share of lines whose quantities are all read, and read to the letter."""
    unit: float
    food: float
    """Mean over the lines of the F1 of the words of the food."""
    main_quantity: float
    """Share of lines whose first number is the one read, or that have none in both."""
    main_unit: float
    """Share of lines whose unit is one of those marked, or that have none in both."""
    main_food: float
    """As ``food``, with the words of the first food read only."""


def read_marked(path: Path) -> list[Marked]:
    with path.open(encoding="utf-8", newline="") as file:
        return [Marked(**row) for row in csv.DictReader(file, delimiter="\t")]


def words_of(text: str) -> Counter[str]:
    return Counter(re.findall(r"[^\W_]+(?:['’-][^\W_]+)*", text.lower()))


def food_f1(read: str, marked: str) -> float:
    ours, theirs = words_of(read), words_of(marked)
    if not ours and not theirs:
        return 1.0
    return 2 * (ours & theirs).total() / (ours.total() + theirs.total())


def plain(text: str) -> str:
    return " ".join(text.split())


def value_of(text: str) -> tuple[float, ...]:
    """Reckon a marked quantity without the reader: its number, or the ends of its range."""
    ends = []
    for end in re.split(r"[-–]|\bto\b|\bor\b", text.replace("⁄", "/")):
        parts = []
        for part in re.findall(r"[0-9]+ ?/ ?[0-9]+|[0-9]*\.?[0-9]+|[¼-¾⅐-⅞]", end):
            vulgar = not part.isascii()
            parts.append(
                unicodedata.numeric(part) if vulgar else float(Fraction(part.replace(" ", "")))
            )
        if parts:
            ends.append(sum(parts))
    return tuple(ends)


def same_main_quantity(read: ReadLine, marked: Marked) -> bool:
    expected = value_of(marked.quantity.split("|")[0])
    if not expected:
        return read.quantity_text == ""
    found = read.quantity if isinstance(read.quantity, tuple) else (read.quantity,)
    return len(found) == len(expected) and all(
        ours is not None and math.isclose(ours, theirs)
        for ours, theirs in zip(found, expected, strict=True)
    )


def same_main_unit(read: ReadLine, marked: Marked) -> bool:
    return read.unit_text in [plain(unit) for unit in marked.unit.split("|")]


def figures(lines: Iterable[Marked], show: Callable[[str], None] | None = None) -> Figures:
    marked = list(lines)
    read = [read_line(line.line) for line in marked]
    fields = [corpus_fields(line) for line in read]
    quantity = [plain(f[0]) == plain(m.quantity) for f, m in zip(fields, marked, strict=True)]
    unit = [plain(f[1]) == plain(m.unit) for f, m in zip(fields, marked, strict=True)]
    food = [food_f1(f[2], m.food) for f, m in zip(fields, marked, strict=True)]
    if show:
        for m, f, *right in zip(marked, fields, quantity, unit, food, strict=True):
            if not (right[0] and right[1] and right[2] == 1):
                kinds = "".join(k if r < 1 else "-" for k, r in zip("QUF", right, strict=True))
                show(f"{kinds} {m.line} => {m.quantity};{m.unit};{m.food}  READ {';'.join(f)}")
    count = len(marked)
    pairs = list(zip(read, marked, strict=True))
    return Figures(
        lines=count,
        quantity=sum(quantity) / count,
        unit=sum(unit) / count,
        food=sum(food) / count,
        main_quantity=sum(same_main_quantity(r, m) for r, m in pairs) / count,
        main_unit=sum(same_main_unit(r, m) for r, m in pairs) / count,
        main_food=sum(food_f1(r.food_text, m.food) for r, m in pairs) / count,
    )


def _say(text: str) -> None:
    sys.stdout.write(text + "\n")


def main() -> None:
    arguments = [word for word in sys.argv[1:] if not word.startswith("--")]
    show = _say if "--misses" in sys.argv else None
    lines = read_marked(Path(arguments[0]) if arguments else DEFAULT)
    parts = {
        "all": lines,
        "developed on": [line for line in lines if not line.is_held_out],
        "held out": [line for line in lines if line.is_held_out],
    }
    if show:
        figures(parts["developed on"], show)
    _say(f"{'':14}{'lines':>6}{'quantity':>10}{'unit':>8}{'food F1':>9}  first of each")
    for name, part in parts.items():
        if part:
            f = figures(part)
            _say(
                f"{name:14}{f.lines:>6}{f.quantity:>10.1%}{f.unit:>8.1%}{f.food:>9.3f}"
                f"  {f.main_quantity:.1%} {f.main_unit:.1%} {f.main_food:.3f}"
            )
    started = time.perf_counter()
    for line in lines:
        read_line(line.line)
    _say(f"{len(lines) / (time.perf_counter() - started):,.0f} lines a second")


if __name__ == "__main__":
    main()

"""How well ingredient lines are read, measured on lines that others have marked.

``python -m tests.recipes.corpus [FILE]`` prints the figures for a file of tab-separated columns
recipe, line, quantity, unit, food. Several marks of one kind are joined by "|".
"""

from __future__ import annotations

import csv
import hashlib
import re
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
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


def same_main_quantity(read: ReadLine, marked: Marked) -> bool:
    first = read_line(marked.quantity.split("|")[0].strip() + " sugar").quantity
    if not re.search(r"[0-9½¼¾⅓⅔⅛]", marked.quantity):
        return read.quantity_text == "" or read.quantity is None
    return read.quantity == first


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


def main() -> None:
    arguments = [word for word in sys.argv[1:] if not word.startswith("--")]
    show = print if "--misses" in sys.argv else None
    lines = read_marked(Path(arguments[0]) if arguments else DEFAULT)
    parts = {
        "all": lines,
        "developed on": [line for line in lines if not line.is_held_out],
        "held out": [line for line in lines if line.is_held_out],
    }
    if show:
        figures(parts["developed on"], show)
    print(f"{'':14}{'lines':>6}{'quantity':>10}{'unit':>8}{'food F1':>9}  first of each")
    for name, part in parts.items():
        if part:
            f = figures(part)
            print(
                f"{name:14}{f.lines:>6}{f.quantity:>10.1%}{f.unit:>8.1%}{f.food:>9.3f}"
                f"  {f.main_quantity:.1%} {f.main_unit:.1%} {f.main_food:.3f}"
            )
    started = time.perf_counter()
    for line in lines:
        read_line(line.line)
    print(f"{len(lines) / (time.perf_counter() - started):,.0f} lines a second")


if __name__ == "__main__":
    main()

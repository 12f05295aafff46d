"""The foods a set can use: the program's table, the set's own, and what is taken of the imported ones."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from reformulate import (
    BadInput,
    Document,
    FoodStore,
    FoodTable,
    MeasureSystem,
    OwnFood,
    Price,
    Problem,
    all_foods,
    own_table,
    price_problems,
    priced,
    read_own_foods,
    write_own_food,
)


class FoodsAtHand:
    """Keeps one priced table up to date with its sources."""

    def __init__(self, program: FoodTable, store: FoodStore | None) -> None:
        self.table = program
        """All foods at hand, with the set's prices."""
        self.own: tuple[OwnFood, ...] = ()
        """The set's own foods."""
        self.store = store
        self._program = program
        self._taken: FoodTable | None = None
        self._all: tuple[object, FoodTable] | None = None
        self._prices: tuple[Price, ...] = ()
        self._system: MeasureSystem | None = None

    def open(
        self, folder: Path, prices: tuple[Price, ...], system: MeasureSystem
    ) -> tuple[Problem, ...]:
        """Take up the foods of another set; return what is wrong with its own foods and prices."""
        problems: list[Problem] = []
        self._prices, self._system = prices, system
        try:
            self.own = read_own_foods(folder)
        except BadInput as error:
            self.own = ()
            problems += error.problems
        self._put_together()
        return (*problems, *price_problems(self.table, prices, system))

    def keep_own(self, folder: Path, food: OwnFood) -> None:
        """Keep a food of the user's own in the set; FileProblem if it cannot be written."""
        write_own_food(folder, food)
        self.own = (*(own for own in self.own if own.key != food.key), food)
        self._put_together()

    def take(self, keys: Sequence[str]) -> None:
        """Bring imported foods to hand; what is at hand already, or is nowhere, is passed over."""
        if self.store is None:
            return
        wanted = [key for key in dict.fromkeys(keys) if key not in self.table]
        found = [key for key in wanted if key in self.store]
        if found:
            more = self.store.table(found)
            self._taken = more if self._taken is None else self._taken.merged(more)
            self._put_together()

    def take_for(self, document: Document) -> None:
        """Bring to hand what a recipe and its swaps need of the imported foods."""
        lines = [line.food for line in document.recipe.lines]
        self.take([*lines, *(swap.food for swap in document.brief.swaps)])

    def all_to_search(self) -> FoodTable:
        """Return the foods at hand and the imported ones, but for those of packages; on any thread.

        Bringing in some thousand foods takes a while, so they are kept until there are others.
        """
        if self.store is None:
            return self.table
        now = (self.table, self.store.sources())
        if self._all is None or self._all[0] != now:
            self._all = (now, all_foods(self.table, self.store))
        return self._all[1]

    def _put_together(self) -> None:
        table = self._program
        if self.own:
            table = table.merged(own_table(self.own))
        if self._taken is not None:
            table = table.merged(self._taken)
        self.table = table if self._system is None else priced(table, self._prices, self._system)

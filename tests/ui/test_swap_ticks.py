"""Ticks at a swap: allowed, pinned, or neither, and what the one says of the other."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reformulate import Swap
from tests.ui.conftest import Person
from ui.recipe_table import HOLD
from ui.swaps_table import with_tick

OATS = Swap(food="oats", stands_in_for=("walnuts",), allowed=False)
LEEK = Swap(food="leek", stands_in_for=("onion-yellow",))


def ticks(allowed: bool, pinned: bool) -> Swap:
    return Swap(food="oats", stands_in_for=("walnuts",), allowed=allowed, pinned=pinned)


@pytest.mark.parametrize(
    ("before", "which", "on", "after"),
    [
        ((False, False), "allowed", True, (True, False)),
        ((True, False), "allowed", False, (False, False)),
        # What is pinned is used: it cannot be left out as well.
        ((True, True), "allowed", False, (False, False)),
        ((False, False), "pinned", True, (True, True)),
        ((True, False), "pinned", True, (True, True)),
        ((True, True), "pinned", False, (True, False)),
    ],
)
def test_a_swap_of_the_brief_takes_its_tick_in_its_place(
    before: tuple[bool, bool], which: str, on: bool, after: tuple[bool, bool]
) -> None:
    found = with_tick((LEEK, ticks(*before)), ticks(*before), which, on=on)
    assert found == (LEEK, ticks(*after))


@pytest.mark.parametrize(("which", "pinned"), [("allowed", False), ("pinned", True)])
def test_a_tick_brings_a_swap_into_the_brief_and_no_tick_brings_none(
    which: str, pinned: bool
) -> None:
    assert with_tick((LEEK,), OATS, which, on=True) == (LEEK, ticks(True, pinned))
    assert with_tick((LEEK,), OATS, which, on=False) == (LEEK,)


def test_the_same_food_for_another_line_is_another_swap() -> None:
    other = Swap(food="oats", stands_in_for=("almonds",))
    assert with_tick((other,), OATS, "allowed", on=True) == (other, ticks(True, False))


def test_a_swap_left_out_in_the_recipe_is_no_longer_pinned(person: Person) -> None:
    person.choose("walnut")
    document = person.session.document
    assert document is not None
    swap = document.brief.swaps[0]
    person.session.edit_brief(
        lambda brief: replace(brief, swaps=with_tick(brief.swaps, swap, "pinned", on=True)), "Pin"
    )
    row = next(r for r in range(person.table.rowCount()) if person.table.row(r).swap is not None)
    assert person.cells(HOLD)[row] == "pinned"
    person.table.toggle(row)
    assert person.cells(HOLD)[row] == "left out"
    person.table.toggle(row)
    assert person.cells(HOLD)[row] == "allowed"

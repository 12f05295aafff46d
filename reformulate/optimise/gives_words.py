"""What gives, in words: what is asked, one step of it, what moves, and how far that stays true."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, isfinite

import numpy as np
from numpy.typing import NDArray

from reformulate.foods import QUANTITY_INDEX, quantity_named
from reformulate.optimise.gives import Give
from reformulate.optimise.item_names import short_names
from reformulate.optimise.items import Items
from reformulate.optimise.words import MINUS

FloatArray = NDArray[np.float64]

LEAST_MOVE = 0.005
"""Up to this an amount counts as staying [g]: no kitchen scale shows it."""

PARTS = (1.0, 0.5, 0.2, 0.1, 0.05)
"""Shares of a whole step that make a round smaller one [1]."""

FINEST = 3
"""Most decimals added to a range that is narrow [count]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GiveWords:
    """One limit that binds, ready to be shown."""

    asked: str
    """``energy at most 145 kcal per serving``."""
    step: str
    """``10 kcal less``, no longer than it stays true; ``per 10 kcal less`` where it bends at once."""
    moves: tuple[str, ...]
    """What moves, the largest first: ``+14 g strained yogurt``; empty where nothing can."""
    others: tuple[str, ...]
    """Nutrients that move with it, per serving: ``protein +0.3 g``."""
    true: str
    """``true from 154 down to 143 kcal``, or that it cannot go further."""
    possible: bool

    def __str__(self) -> str:
        """Say all of it in one line."""
        if not self.possible:
            return f"{self.asked}: {self.true}"
        others = f"; {', '.join(self.others)} per serving" if self.others else ""
        return f"{self.asked}. {self.step}: {', '.join(self.moves)}{others}; {self.true}"


def give_words(give: Give, items: Items, shown: Sequence[str]) -> GiveWords:
    """Put what a limit does to an optimum in words.

    Parameters
    ----------
    items : Items
        What the amounts of the optimum are of.
    shown : sequence of str
        Keys of the quantities of which a move is told.
    """
    lever = give.lever
    if not give.possible:
        return GiveWords(
            asked=lever.words,
            step=lever.step_words,
            moves=(),
            others=(),
            true="cannot go further",
            possible=False,
        )
    fits = _part(give)
    part = fits or 1.0
    return GiveWords(
        asked=lever.words,
        step=_step(give, part) if fits else f"per {lever.step_words}",
        moves=_moves(part * give.grams, items),
        others=tuple(
            words
            for key in shown
            if key != lever.nutrient
            and (words := _other(key, part * float(give.per_serving[QUANTITY_INDEX[key]])))
        ),
        true=_range(give) if fits else _close_by(give),
        possible=True,
    )


def gives_heading(gives: Sequence[Give], *, conflict: bool = False) -> str:
    """Say how many limits an optimum leans on, or why there is nothing to tell."""
    if conflict:
        return (
            "The musts and holds cannot all be kept, so nothing is in balance here. "
            "Loosen one of those in conflict first."
        )
    count = len(gives)
    if not count:
        return "Nothing binds: no goal or hold keeps the amounts from the original's."
    limits = "One limit keeps" if count == 1 else f"{count} limits keep"
    them = "it" if count == 1 else "one"
    return f"{limits} the amounts where they are. Move {them} a little, and this gives:"


def _part(give: Give) -> float | None:
    """Return which part of a step stays true; None where next to nothing does."""
    lever = give.lever
    room = (give.low if lever.step < 0 else give.high) - lever.limit
    fits = (part for part in PARTS if part * abs(lever.step) <= abs(room) * (1 + 1e-9))
    return next(fits, None)


def _step(give: Give, part: float) -> str:
    size, rest = give.lever.step_words.split(" ", maxsplit=1)
    return f"{float(size) * part:g} {rest}"


def _moves(grams: FloatArray, items: Items) -> tuple[str, ...]:
    names = short_names(items)
    order = np.argsort(-np.abs(grams), kind="stable")
    return tuple(
        f"{_signed(float(grams[i]))} g {names[i]}" for i in order if abs(grams[i]) > LEAST_MOVE
    )


def _other(key: str, change: float) -> str:
    """Say how a quantity moves; empty where it does not show in the last digit of its level."""
    kind = quantity_named(key)
    if abs(change) < 0.5 * 10.0**-kind.decimals:
        return ""
    return f"{kind.spoken} {_signed(change, decimals=kind.decimals + 1)} {kind.unit}".strip()


def _signed(value: float, *, decimals: int = 2) -> str:
    """Write a change with its sign and about two figures, ``decimals`` at most."""
    size = abs(value)
    usual = 0 if size >= 9.95 else 1 if size >= 0.995 else 2
    text = f"{size:.{min(usual, decimals)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"{MINUS if value < 0 else '+'}{text}"


def _range(give: Give) -> str:
    """Say from where to where it is true, rounded inwards: what is written holds."""
    lever = give.lever
    for decimals in range(lever.decimals, lever.decimals + FINEST + 1):
        step = 10.0**decimals
        low, high = ceil(give.low * step - 1e-6) / step, floor(give.high * step + 1e-6) / step
        has_room = high - low >= 0.5 * (give.high - give.low)
        if has_room and low <= lever.limit + 1e-9 and lever.limit <= high + 1e-9:
            break
    else:
        return _close_by(give)
    ends = [f"{end:.{decimals}f}" if isfinite(end) else "no end" for end in (low, high)]
    if lever.step < 0:
        return f"true from {ends[1]} down to {ends[0]} {lever.unit}"
    return f"true from {ends[0]} up to {ends[1]} {lever.unit}"


def _close_by(give: Give) -> str:
    lever = give.lever
    return f"true close to {lever.limit:.{lever.decimals}f} {lever.unit} only"

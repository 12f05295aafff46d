"""A trade-off curve in words and figures: its sentences, and the texts of its table."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import floor, log10

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Per
from reformulate.foods import QUANTITY_INDEX, quantity_named
from reformulate.optimise.efficient import Unbounded
from reformulate.optimise.item_names import short_names
from reformulate.optimise.items import Items
from reformulate.optimise.trade_off import CHANGE, TradeOff, TradeOffPoint
from reformulate.optimise.words import quantity

FloatArray = NDArray[np.float64]

NO_MOVE = 0.005
"""Up to this a line counts as the original's [g]: no kitchen scale shows it."""

FINER = 1
"""Decimals added where points stand one below the other: neighbours are near [count]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CurveRow:
    """One row of a curve's table, ready to be shown."""

    name: str
    """``Original``, ``Now``, or the number of a point."""
    first: str
    """Level of the first quantity, without its unit."""
    second: str
    is_knee: bool = False
    keeps_swap_rules: bool = True


def curve_name(key: str) -> str:
    """Name a quantity of a curve: ``Energy``, ``Change from the original``."""
    return "Change from the original" if key == CHANGE else quantity_named(key).name


def curve_unit(key: str, per: Per) -> str:
    """Say what a quantity of a curve is counted in: ``kcal per serving``."""
    if key == CHANGE:
        return "%"
    whole = "per serving" if per is Per.SERVING else "per 100 g"
    return f"{quantity_named(key).unit} {whole}".strip()


def curve_axis(key: str, per: Per) -> str:
    """Name a quantity with its unit: ``Energy (kcal per serving)``."""
    return f"{curve_name(key)} ({curve_unit(key, per)})"


def point_words(curve: TradeOff, point: TradeOffPoint, *, finer: int = 0) -> str:
    """Say where a point is: ``138 kcal and 11.2 g protein``; ``finer`` adds decimals [count]."""
    return " and ".join(
        _counted(key, _figure(key, value, finer), named=True)
        for key, value in ((curve.first, point.first), (curve.second, point.second))
    )


def curve_table(curve: TradeOff, now: tuple[float, float] | None = None) -> tuple[CurveRow, ...]:
    """Return the numbers of a curve: the original, what there is ``now``, then every point."""

    def row(name: str, first: float, second: float, **more: bool) -> CurveRow:
        return CurveRow(
            name=name,
            first=_figure(curve.first, first, FINER),
            second=_figure(curve.second, second, FINER),
            **more,
        )

    rows = [row("Original", *curve.original)]
    if now is not None:
        rows.append(row("Now", *now))
    rows += [
        row(
            str(number),
            point.first,
            point.second,
            is_knee=curve.knee == number - 1,
            keeps_swap_rules=point.keeps_swap_rules,
        )
        for number, point in enumerate(curve.points, start=1)
    ]
    return tuple(rows)


def moved_words(items: Items, grams: FloatArray) -> tuple[str, ...]:
    """Say which lines differ from the original and how, the largest change first.

    Such as ``cream cheese 227 → 181 g``.
    """
    change, names = grams - items.original, short_names(items)
    order = np.argsort(-np.abs(change), kind="stable")
    return tuple(
        f"{names[i]} {_mass(items.original[i])} → {_mass(grams[i])} g"
        for i in order
        if abs(change[i]) > NO_MOVE
    )


def knee_sentence(curve: TradeOff) -> str:
    """Say what the curve asks: the knee and the price on both its sides, or why there is none."""
    points = curve.points
    if not points:
        left = " and ".join(_spoken(key) for key in (curve.first, curve.second) if key != CHANGE)
        return (
            f"No curve: even with no goal on {left}, the other musts and holds cannot all be kept. "
            "Loosen one of them first."
        )
    if len(points) == 1:
        return f"These two do not compete: {point_words(curve, points[0])} is the best of both at once."
    if curve.knee is None:
        return f"A straight line, with no knee: {_price(curve, points[1], points[0])} all along."
    knee = points[curve.knee]
    return (
        f"The knee is at {point_words(curve, knee)}: up to there "
        f"{_price(curve, points[-1], knee)} on average, "
        f"beyond it {_price(curve, knee, points[0], short=True)}."
    )


def exactness_sentence(curve: TradeOff) -> str:
    """Say whether the curve is exact, or what of the brief it leaves aside."""
    if not curve.points:
        return ""
    between = _loose_between(curve)
    if curve.exact and not between:
        return "Exact: all its corners, and straight lines between."
    if curve.exact:
        return (
            "Exact at its corners. Between some of them a swap would be used less than its least "
            "amount: there the curve is a limit that recipes stay short of."
        )
    return f"A relaxation, so nothing lies beyond it. {' '.join(curve.notes)}"


def curve_unknown_sentence(curve: TradeOff) -> str:
    """Say whose figures are not known; empty where all are."""
    sentences = []
    for key in (curve.first, curve.second):
        unknown, known = _unknown(curve, key)
        if unknown and not known:
            sentences.append(f"No food of this recipe has a known figure for {_spoken(key)}.")
        elif unknown:
            names = ", ".join(unknown)
            sentences.append(f"{curve_name(key)} is at least what is shown: not known for {names}.")
    return " ".join(sentences)


def curve_is_known(curve: TradeOff) -> bool:
    """Return whether any food of the recipe has a figure for each of the two quantities."""
    return all(_unknown(curve, key)[1] for key in (curve.first, curve.second))


def unbounded_sentence(error: Unbounded, first: str, second: str) -> str:
    """Say which quantity of a curve has no end, and what to do."""
    key = (first, second)[error.objective]
    return (
        f"No curve: {_spoken(key)} gets better without end. "
        "Hold the batch size, or set a goal that limits it."
    )


def _price(
    curve: TradeOff, start: TradeOffPoint, end: TradeOffPoint, *, short: bool = False
) -> str:
    """Say what a step of the first quantity costs of the second between two points."""
    run, rise = abs(end.first - start.first), abs(end.second - start.second)
    size = _step(curve)
    cost = _rough(rise / run * size)
    if short:
        return _counted(curve.second, cost)
    if curve.first == CHANGE:
        step = f"{size:g} % less change"
    else:
        unit = quantity_named(curve.first).unit
        what = "" if curve.first == "energy_kcal" else f" {_spoken(curve.first)}"
        step = f"{f'{size:g} {unit}'.strip()} {'more' if curve.first_more else 'less'}{what}"
    plural = size > 1
    verb = ("cost" if plural else "costs") if curve.second_more else ("add" if plural else "adds")
    return f"{step} {verb} {_counted(curve.second, cost, named=True)}"


def _step(curve: TradeOff) -> float:
    """Return a round step of the first quantity, no more than half of what the curve spans."""
    first = [point.first for point in curve.points]
    span = max(first) - min(first)
    if curve.first == CHANGE or quantity_named(curve.first).unit in ("kcal", "mg"):
        size = 10.0
    else:
        size = 10.0 ** (1 - quantity_named(curve.first).decimals)
    while size > span / 2 and size > 1e-3:
        size /= 10
    return size


def _rough(value: float) -> str:
    """Write a price with two figures: ``0.13``, ``4.2``, ``120``."""
    if value <= 0.0:
        return "0"
    decimals = max(1 - floor(log10(value)), 0)
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _counted(key: str, figure: str, *, named: bool = False) -> str:
    if key == CHANGE:
        return f"{figure} %{' change' if named else ''}"
    kind = quantity_named(key)
    name = f" {kind.spoken}" if named and key != "energy_kcal" else ""
    if not kind.unit and name:
        return f"{figure} of{name}"
    return f"{f'{figure} {kind.unit}'.strip()}{name}"


def _figure(key: str, value: float, finer: int) -> str:
    """Write a level without its unit."""
    if key == CHANGE:
        return f"{value:.{finer}f}"
    return quantity(value, key, Per.SERVING, finer=finer).split(" ", maxsplit=1)[0]


def _spoken(key: str) -> str:
    return "change" if key == CHANGE else quantity_named(key).spoken


def _mass(grams: float) -> str:
    """Write a mass with as many decimals as a cook can use: ``227``, ``13.8``, ``0.55``."""
    decimals = 0 if grams >= 100 else 1 if grams >= 2 else 2
    text = f"{grams:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _unknown(curve: TradeOff, key: str) -> tuple[list[str], bool]:
    """Return the foods used anywhere on the curve without a figure, and whether any has one."""
    if key == CHANGE or not curve.points:
        return [], True
    used = (np.array([point.grams for point in curve.points]) > NO_MOVE).any(axis=0)
    known = curve.items.known[:, QUANTITY_INDEX[key]]
    names = short_names(curve.items)
    return [names[i] for i in np.flatnonzero(used & ~known).tolist()], bool((used & known).any())


def _loose_between(curve: TradeOff) -> bool:
    """Return whether a swap comes into use between two neighbouring points below its least amount."""
    least = curve.items.least_used
    return any(
        bool((((one.grams <= NO_MOVE) != (other.grams <= NO_MOVE)) & (least > NO_MOVE)).any())
        for one, other in pairwise(curve.points)
    )

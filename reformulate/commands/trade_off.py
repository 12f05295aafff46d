"""``reformulate tradeoff``: the exact trade-off between two quantities."""

from __future__ import annotations

import argparse
import json

from reformulate.brief import Per
from reformulate.commands import wanted
from reformulate.commands.loading import in_file
from reformulate.commands.solve import load_with_goals
from reformulate.errors import BadInput
from reformulate.optimise import (
    TradeOff,
    curve_axis,
    curve_table,
    exactness_sentence,
    knee_sentence,
    trade_off,
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the two quantities, and what else is wanted."""
    parser.add_argument(
        "first", metavar="X", help="a nutrient, a property of taste and texture, or cost"
    )
    parser.add_argument("second", metavar="Y", help="another, or change: how far from the original")
    parser.add_argument(
        "--more",
        action="append",
        metavar="KEY",
        help="say of which of the two more is better; otherwise goals and common sense say",
    )
    wanted.add_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Print every corner of the curve; exit 1 where the other musts conflict."""
    loaded, brief = load_with_goals(options)
    try:
        curve = trade_off(
            loaded.batch,
            brief,
            loaded.foods,
            options.first,
            options.second,
            per=Per(options.per),
            more=options.more,
        )
    except BadInput as error:
        raise BadInput(in_file(options.recipe, problem) for problem in error.problems) from error
    if options.json:
        print(json.dumps(as_json(curve), indent=2, allow_nan=False))
    else:
        _print(curve)
    return 0 if curve.points else 1


def as_json(curve: TradeOff) -> dict[str, object]:
    """Return a curve as JSON writes it."""
    foods = [item.food.key for item in (*curve.items.ingredients,)]
    return {
        "x": curve.first,
        "y": curve.second,
        "per": curve.per.value,
        "more_is_better": {"x": curve.first_more, "y": curve.second_more},
        "points": [
            {
                "x": point.first,
                "y": point.second,
                "grams": dict(_summed(foods, point.grams.tolist())),
                "keeps_swap_rules": point.keeps_swap_rules,
            }
            for point in curve.points
        ],
        "original": {"x": curve.original[0], "y": curve.original[1]},
        "knee": curve.knee,
        "exact": curve.exact,
        "notes": list(curve.notes),
        "sentence": knee_sentence(curve),
    }


def _summed(foods: list[str], grams: list[float]) -> dict[str, float]:
    """Grams by food; a food on two lines is summed."""
    total: dict[str, float] = {}
    for food, mass in zip(foods, grams, strict=True):
        total[food] = total.get(food, 0.0) + mass
    return total


def _print(curve: TradeOff) -> None:
    print(f"{curve_axis(curve.first, curve.per)} against {curve_axis(curve.second, curve.per)}")
    for row in curve_table(curve):
        print(f"  {row.name:<10} {row.first:>9} {row.second:>9}")
    print(knee_sentence(curve))
    print(exactness_sentence(curve))

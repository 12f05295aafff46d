"""``reformulate nutrients``: what is in a recipe."""

from __future__ import annotations

import argparse
import json
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reformulate.commands.loading import load
from reformulate.foods import QUANTITIES
from reformulate.optimise import grams_words
from reformulate.recipes import Nutrition, nutrition_of, unknown_foods


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Nothing beyond what every recipe command takes."""
    del parser


def run(options: argparse.Namespace) -> int:
    """Print the nutrients of a recipe."""
    loaded = load(options.recipe, options.release)
    found = nutrition_of(loaded.batch)
    if options.json:
        print(json.dumps(as_json(found), indent=2, allow_nan=False))
        return 0
    recipe = loaded.document.recipe
    print(f"{recipe.title}: {recipe.servings:g} servings, {found.finished_grams:.0f} g finished\n")
    for line, grams, route in zip(
        recipe.lines, loaded.batch.grams, loaded.batch.routes, strict=True
    ):
        print(
            f"  {line.written:<18} {line.food:<32} {grams_words(grams, beside=line.written):>10}   {route}"
        )
    print(f"\n  {'':<24}{'per serving':>22}{'per 100 g':>22}")
    for i, kind in enumerate(QUANTITIES):
        mark = "at least " if found.at_least[i] else ""
        figures = (
            f"{mark}{values[i]:.{kind.decimals}f} {kind.unit}"
            for values in (found.per_serving, found.per_100g)
        )
        print(f"  {kind.name:<24}" + "".join(f"{figure:>22}" for figure in figures))
    for i, kind in enumerate(QUANTITIES):
        if found.at_least[i]:
            names = "; ".join(unknown_foods(loaded.batch.ingredients, kind.key))
            print(f"  {kind.name}: not known for {names}.")
    factors = found.energy_by_general_factors / found.servings
    print(
        f"\n  Check: by 4-4-9 a serving has {factors:.0f} kcal; the figure above is the foods' own."
    )
    return 0


def as_json(found: Nutrition) -> dict[str, Any]:
    """Return nutrients as JSON writes them."""
    return {
        "servings": found.servings,
        "finished_grams": found.finished_grams,
        "per_serving": figures(found.per_serving, found.at_least),
        "per_100g": figures(found.per_100g, found.at_least),
    }


def figures(
    values: NDArray[np.float64], at_least: NDArray[np.bool_]
) -> dict[str, dict[str, float | bool]]:
    """Return each nutrient's value and whether it is only a lower bound."""
    return {
        kind.key: {"value": float(values[i]), "at_least": bool(at_least[i])}
        for i, kind in enumerate(QUANTITIES)
    }

"""``reformulate solve``: amounts closest to the original that meet goals."""

from __future__ import annotations

import argparse
import json
from math import isfinite
from pathlib import Path
from typing import Any

from reformulate.brief import Brief, Per
from reformulate.commands import wanted
from reformulate.commands.loading import Loaded, in_file, load
from reformulate.commands.nutrients import figures
from reformulate.errors import BadInput
from reformulate.foods import QUANTITIES, quantity_named
from reformulate.optimise import (
    Answer,
    Optimiser,
    Status,
    character_change_words,
    character_of,
    character_sentence,
    goal_words,
    grams_words,
    household_words,
    measured_answer,
    per_words,
    percent_words,
    quantity,
    reach_ends,
    state_sentence,
    unknown_sentence,
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what is wanted, and in what amounts it is answered."""
    wanted.add_arguments(parser)
    parser.add_argument(
        "--measured",
        action="store_true",
        help="in amounts that spoons, cups, pieces and packs give, every must kept by them",
    )


def run(options: argparse.Namespace) -> int:
    """Print the answer; exit 1 where the goals cannot all be met."""
    loaded, brief = load_with_goals(options)
    answer = _answer(loaded, brief, options.recipe)
    if options.measured:
        answer = measured_answer(answer, loaded.system)
    if options.json:
        print(json.dumps(as_json(answer, loaded, Per(options.per)), indent=2, allow_nan=False))
    else:
        _print(answer, loaded)
    return 0 if answer.status is Status.OPTIMAL else 1


def load_with_goals(options: argparse.Namespace) -> tuple[Loaded, Brief]:
    """Read the recipe, and its brief with what the command line asks for put in."""
    loaded = load(options.recipe, options.release)
    return loaded, wanted.brief_with(options, loaded.document.brief, loaded.document.recipe)


def _answer(loaded: Loaded, brief: Brief, path: Path) -> Answer:
    try:
        return Optimiser(loaded.batch, brief, loaded.foods).answer(brief)
    except BadInput as error:
        raise BadInput(in_file(path, problem) for problem in error.problems) from error


def as_json(answer: Answer, loaded: Loaded, per: Per) -> dict[str, Any]:
    """Return an answer as JSON writes it; a reach without an end is null there."""
    achieved = answer.achieved
    values = achieved.per_100g if per is Per.HUNDRED_GRAMS else achieved.per_serving
    return {
        "status": answer.status.value,
        "sentence": state_sentence(answer),
        "lines": [
            {
                "food": amount.food,
                "grams_before": amount.before,
                "grams_after": amount.after,
                "amount_after": household_words(amount, loaded.system) or grams_words(amount.after),
            }
            for amount in answer.amounts
        ],
        "goals": [
            {
                "goal": goal_words(result.goal),
                "value": _finite(result.level),
                "at_least": result.at_least,
                "met": result.met,
                "misses_by": _finite(result.misses_by),
            }
            for result in answer.goals
        ],
        "holds_that_give_way": [
            {"hold": hold.name, "by_fraction": hold.gives} for hold in answer.holds
        ],
        "achieved": figures(values, achieved.at_least),
        "character": {
            level.key: {
                "original": level.original,
                "now": level.now,
                "change": level.change,
                "at_least": level.at_least,
                "firm": level.firm,
                "kept": level.kept,
            }
            for level in character_of(answer)
        },
        **_measured(answer),
        "certificate": {
            "primal": answer.certificate.primal,
            "dual": answer.certificate.dual,
            "gap": answer.certificate.gap,
        },
        "reach": {
            reach.nutrient: [_finite(reach.low), _finite(reach.high)] for reach in answer.reach
        },
    }


def _measured(answer: Answer) -> dict[str, Any]:
    found = answer.measured
    if found is None:
        return {}
    return {"measured": {"proven": found.proven, "in_the_way": list(found.in_the_way)}}


def _finite(value: float) -> float | None:
    return value if isfinite(value) else None


def _print(answer: Answer, loaded: Loaded) -> None:
    recipe = loaded.document.recipe
    print(f"{recipe.title}: {recipe.servings:g} servings")
    print(state_sentence(answer))
    if words := unknown_sentence(answer):
        print(words)
    print()
    for amount in answer.amounts:
        mark = (
            ""
            if not amount.moved
            else "new"
            if amount.before == 0
            else percent_words(amount.change)
        )
        written = amount.line.written if amount.line else ""
        before = grams_words(amount.before, beside=written)
        said = amount.household is not None or not amount.moved
        after = grams_words(amount.after, beside=written or "measured" if said else "")
        print(
            f"  {amount.name:<40.40} {before:>9} → {after:>9}"
            f"  {household_words(amount, loaded.system):<26} {mark}"
        )
    print()
    for result in answer.goals:
        goal = result.goal
        level = quantity(result.level, goal.nutrient, goal.per)
        print(
            f"  {'met   ' if result.met else 'missed'}  {goal_words(goal)}: "
            f"{'at least ' if result.at_least else ''}{level}"
        )
    _print_character(answer)
    names = {kind.key: kind.name for kind in QUANTITIES}
    units = {kind.key: kind.unit for kind in QUANTITIES}
    print("\n  Reach, everything else kept:")
    for reach in answer.reach:
        low, high = reach_ends(reach)
        share = reach.per in (Per.ENERGY, Per.ORIGINAL)
        unit = (
            f"% {per_words(reach.per)}"
            if share
            else f"{units[reach.nutrient]} {per_words(reach.per)}".lstrip()
        )
        print(f"    {names[reach.nutrient]:<20} {low:>8} to {high} {unit}")
    proof = answer.certificate
    print(
        f"\n  Certificate: primal {proof.primal:.1e}, dual {proof.dual:.1e}, gap {proof.gap:.1e} "
        f"({'proven closest' if proof.holds else 'not proven'})"
    )
    if answer.measured is not None:
        found = "proven" if answer.measured.proven else "the best in the time there was"
        print(f"  Measured amounts nearest to it: {found}")


def _print_character(answer: Answer) -> None:
    levels = character_of(answer)
    print(f"\n  {character_sentence(levels)} Per 100 g, the original beside now:")
    for level in levels:
        change = character_change_words(level.change)
        places = quantity_named(level.key).decimals
        now = f"{'at least ' if level.at_least else ''}{level.now:.{places}f} {level.unit}"
        remarks = ("" if level.firm else "weaker evidence", "" if level.kept else "hold not kept")
        print(
            f"    {level.name:<12} {level.original:>8.{places}f} → {now:<10} {change:>7}  "
            f"{', '.join(remark for remark in remarks if remark)}".rstrip()
        )

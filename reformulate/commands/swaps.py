"""``reformulate swaps``: what each swap would do; or which food of the whole table would help most."""

from __future__ import annotations

import argparse
import json

from reformulate.brief import Brief, candidate_swaps
from reformulate.commands import wanted
from reformulate.commands.loading import Loaded, in_file
from reformulate.commands.solve import load_with_goals
from reformulate.errors import BadInput
from reformulate.foods import QUANTITY_INDEX, FoodStore, all_foods
from reformulate.optimise import (
    Prospect,
    TableSearch,
    character_of,
    explore,
    goal_words,
    prospect_words,
    quantity,
    search_table,
)
from reformulate.sets import exchanges_of


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the search, and what else is wanted."""
    parser.add_argument(
        "--search",
        metavar="LINE,...",
        help="search all foods, imported ones too, for those that would help most in place of lines",
    )
    parser.add_argument("--count", type=int, default=10, metavar="N", help="how many foods to find")
    parser.add_argument("--group", metavar="WORDS", help="search foods of this group only")
    wanted.add_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Print the swaps, those first that come nearest to the goals."""
    loaded, brief = load_with_goals(options)
    try:
        if options.search:
            _search(options, loaded, brief)
            return 0
        own = exchanges_of(options.recipe)
        swaps = [c.swap for c in candidate_swaps(loaded.document.recipe, brief, loaded.foods, own)]
        prospects = explore(loaded.batch, brief, loaded.foods, swaps)
    except BadInput as error:
        raise BadInput(in_file(options.recipe, problem) for problem in error.problems) from error
    if options.json:
        print(json.dumps([_prospect(one) for one in prospects], indent=2, allow_nan=False))
    else:
        for one in prospects:
            print(prospect_words(one, loaded.foods.food(one.swap.food).name))
    return 0


def _search(options: argparse.Namespace, loaded: Loaded, brief: Brief) -> None:
    lines = tuple(line.strip() for line in options.search.split(","))
    with FoodStore.open() as store:
        foods = all_foods(loaded.foods, store)
    group = (options.group or "").lower()
    found = search_table(
        loaded.batch,
        brief,
        foods,
        lines,
        count=options.count,
        wanted=(lambda food: group in food.group.lower()) if group else None,
    )
    if options.json:
        print(json.dumps(_table(found), indent=2, allow_nan=False))
        return
    for one in found.found:
        note = f" (not known: {', '.join(one.unknown)})" if one.unknown else ""
        missed = f", goals missed by {one.misses:.1%}" if one.misses > 1e-9 else ""
        print(f"  {one.food.key:<34} {one.grams:>6.0f} g{missed}{note}  {one.food.name}")
    print(
        f"{found.priced} foods priced, {found.solved} programs solved; "
        f"no other food costs less than {found.bound:.4g} (without any: {found.without:.4g})."
    )


def _table(found: TableSearch) -> dict[str, object]:
    return {
        "found": [
            {
                "food": one.food.key,
                "name": one.food.name,
                "grams": one.grams,
                "cost": one.cost,
                "goals_missed_by_fraction": one.misses,
                "unknown": list(one.unknown),
            }
            for one in found.found
        ],
        "without": found.without,
        "bound": found.bound if found.bound < float("inf") else None,
        "priced": found.priced,
        "solved": found.solved,
    }


def _prospect(one: Prospect) -> dict[str, object]:
    answer = one.answer
    base: dict[str, object] = {
        "food": one.swap.food,
        "stands_in_for": list(one.swap.stands_in_for),
        "caution": one.swap.caution,
        "allowed": one.swap.allowed,
    }
    if answer is None:
        return base | {"status": "problem", "problems": [str(p) for p in one.problems]}
    return base | {
        "status": answer.status.value,
        "grams": one.grams,
        "changes": answer.changes,
        "goals": [
            {
                "goal": goal_words(result.goal),
                "value": result.level,
                "words": quantity(result.level, result.goal.nutrient, result.goal.per),
                "met": result.met,
            }
            for result in answer.goals
        ],
        "character_change": {level.key: level.change for level in character_of(answer)},
        "cost_per_serving": _cost(one),
    }


def _cost(one: Prospect) -> float | None:
    answer, column = one.answer, QUANTITY_INDEX["cost"]
    if answer is None or answer.achieved.at_least[column]:
        return None
    return float(answer.achieved.per_serving[column])

"""``reformulate gives``: what each binding goal and hold costs near the optimum."""

from __future__ import annotations

import argparse
import json
from math import isfinite, isinf

from reformulate.commands import wanted
from reformulate.commands.loading import in_file
from reformulate.commands.solve import load_with_goals
from reformulate.errors import BadInput
from reformulate.foods import QUANTITIES
from reformulate.optimise import (
    Optimiser,
    Status,
    give_words,
    gives_heading,
    goal_words,
    grams_words,
    headroom_costs,
    what_gives,
)

add_arguments = wanted.add_arguments


def run(options: argparse.Namespace) -> int:
    """Print what gives; exit 1 where the goals cannot all be met."""
    loaded, brief = load_with_goals(options)
    try:
        answer = Optimiser(loaded.batch, brief, loaded.foods).answer(brief, reach=False)
        gives = what_gives(loaded.batch, brief, loaded.foods)
        rooms = headroom_costs(loaded.batch, brief, loaded.foods)
    except BadInput as error:
        raise BadInput(in_file(options.recipe, problem) for problem in error.problems) from error
    conflict = answer.optimum.relaxed is not None
    foods = [item.food.key for item in answer.items.ingredients]
    if options.json:
        found = [
            {
                "limit": give.lever.words,
                "step": give.lever.step,
                "unit": give.lever.unit,
                "possible": give.possible,
                "grams": {
                    food: by
                    for food, by in zip(foods, give.grams.tolist(), strict=True)
                    if isfinite(by) and abs(by) > 1e-6
                },
                "per_serving": {
                    kind.key: by
                    for kind, by in zip(QUANTITIES, give.per_serving.tolist(), strict=True)
                    if isfinite(by) and abs(by) > 1e-9
                },
                "from": give.low if isfinite(give.low) else None,
                "to": give.high if isfinite(give.high) else None,
            }
            for give in gives
        ]
        headroom = [{"goal": one.goal.nutrient, "grams": one.grams} for one in rooms]
        status = Status.CONFLICT if conflict else Status.OPTIMAL
        print(json.dumps({"status": status.value, "gives": found, "headroom": headroom}, indent=2))
        return 1 if conflict else 0
    print(gives_heading(gives, conflict=conflict))
    for give in gives:
        print(f"  {give_words(give, answer.items, brief.shown)}")
    for one in rooms:
        side = "more" if one.grams >= 0.0 else "less"
        moved = f"{grams_words(round(abs(one.grams), 1))} {side} moves than without headroom"
        broken = "; only without it all musts are kept" if isinf(one.changes) else ""
        print(f"  {goal_words(one.goal)}: {moved}{broken}")
    return 1 if conflict else 0

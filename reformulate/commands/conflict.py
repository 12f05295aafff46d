"""``reformulate conflict``: why goals and holds cannot all be kept, and the ways out."""

from __future__ import annotations

import argparse
import json

from reformulate.commands.loading import in_file
from reformulate.commands.solve import load_with_goals
from reformulate.errors import BadInput
from reformulate.optimise import find_conflict


def run(options: argparse.Namespace) -> int:
    """Print a smallest set of wishes in conflict; exit 1 where there is one."""
    loaded, brief = load_with_goals(options)
    try:
        found = find_conflict(loaded.batch, brief, loaded.foods)
    except BadInput as error:
        raise BadInput(in_file(options.recipe, problem) for problem in error.problems) from error
    members = [member.words for member in found.members] if found else []
    ways = [way.words for way in found.ways_out] if found else []
    if options.json:
        status = "conflict" if found else "none"
        print(json.dumps({"status": status, "members": members, "ways_out": ways}, indent=2))
    elif found is None:
        print("All goals and holds can be kept together.")
    else:
        print("These alone cannot all be kept; without any one of them the rest of these could:")
        print("".join(f"  {words}\n" for words in members))
        if ways:
            print("Any one of these changes alone makes room for everything else:")
            print("".join(f"  {words}\n" for words in ways), end="")
        else:
            print("No change to one of them alone makes room for everything else.")
    return 1 if found else 0

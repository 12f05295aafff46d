"""``reformulate review``: what editors miss before print."""

from __future__ import annotations

import argparse
import json

from reformulate.commands.loading import load
from reformulate.recipes.review import Finding, review


def add_arguments(_parser: argparse.ArgumentParser) -> None:
    """Add nothing: a review takes the recipe alone."""


def run(options: argparse.Namespace) -> int:
    """Print every finding, most serious first; exit 1 where there are any."""
    loaded = load(options.recipe, options.release)
    found = review(loaded.batch, loaded.foods, loaded.system)
    if options.json:
        print(json.dumps([_as_json(one) for one in found], indent=2))
    elif not found:
        print("Nothing to put right was found.")
    for one in () if options.json else found:
        place = f"{one.where}: " if one.where else ""
        print(f"{one.sureness:<8} {place}{one.what}\n         {one.why}")
        if one.fix:
            print(f"         In the window: {one.fix.words}")
    return 1 if found else 0


def _as_json(one: Finding) -> dict[str, object]:
    return {
        "kind": one.kind.value,
        "where": one.where,
        "what": one.what,
        "why": one.why,
        "confidence": one.confidence,
        "sureness": one.sureness,
        "fix": one.fix.words if one.fix else None,
    }

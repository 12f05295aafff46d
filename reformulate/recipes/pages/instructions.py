"""The steps of a recipe from every form ``recipeInstructions`` may take."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from reformulate.recipes.pages.cleaning import clean_lines, without_bullets
from reformulate.recipes.pages.json_ld import Graph, Node, as_text, is_a
from reformulate.recipes.pages.listing import leaves
from reformulate.recipes.pages.notes import Notes
from reformulate.recipes.pages.page import PageStep

MOST_STEPS: Final = 500
"""Most steps of one recipe [count]."""
LONGEST_STEP: Final = 10_000
"""Most characters of one step [count]."""

_ONLY_A_COUNT = re.compile(r"step\s+[0-9]{1,3}\s*[.:]?", re.IGNORECASE)
_ORDINAL = re.compile(r"(?:step\s+)?\(?([0-9]{1,3})\s*(?:[.):-]|\Z)\s*(?![0-9])", re.IGNORECASE)


def steps_of(graph: Graph, node: Node, notes: Notes) -> tuple[PageStep, ...]:
    """Return the steps of a recipe: a text is split at its lines, a HowToStep is one step."""
    values = graph.values(node, "recipeInstructions", "instructions", "step", "steps")
    found: list[tuple[str, list[str], bool]] = []
    for leaf in leaves(graph, values, "steps", notes):
        if isinstance(leaf.value, str):
            found.append((leaf.section, clean_lines(leaf.value), True))
        else:
            found.append((leaf.section, list(_lines_of_step(graph, leaf.value)), False))
    # One step that is said to be all of them is a list in disguise.
    split_all = len(found) == 1
    steps = [
        (section, line)
        for section, lines, split in found
        for line in (lines if split or split_all else [" ".join(lines)])
    ]
    steps = [(section, line) for section, line in steps if not _ONLY_A_COUNT.fullmatch(line)]
    bare = _without_ordinals([line for _, line in steps])
    kept = [
        PageStep(section=section, text=text[:LONGEST_STEP])
        for (section, _), text in zip(steps, bare, strict=True)
        if text
    ]
    if not kept:
        notes.add("The page gives no steps.")
    if len(kept) > MOST_STEPS:
        notes.add(f"Only the first {MOST_STEPS} steps were read.")
    if any(len(text) > LONGEST_STEP for text in bare):
        notes.add(f"A step was cut after {LONGEST_STEP:_} characters.".replace("_", " "))
    return tuple(kept[:MOST_STEPS])


def _lines_of_step(graph: Graph, node: Node) -> Iterator[str]:
    if text := graph.text(node, "text"):
        yield from clean_lines(text)
        return
    parts = graph.values(node, "itemListElement")
    if parts:
        for part in parts[:MOST_STEPS]:
            if isinstance(part, dict):
                said = " ".join(clean_lines(graph.text(part, "text", "name")))
                if said:
                    yield f"Tip: {said}" if is_a(part, "HowToTip") else said
            elif isinstance(part, str | int | float):
                yield from clean_lines(as_text(part))
        return
    yield from clean_lines(graph.text(node, "description", "name"))


def _without_ordinals(lines: list[str]) -> list[str]:
    """Return steps without numbers before them, where they count from one upwards."""
    bare = list(without_bullets(lines)) if all(lines) else lines
    lines = bare if len(bare) == len(lines) else lines
    counts = [_ORDINAL.match(line) for line in lines]
    numbers = [int(count[1]) for count in counts if count]
    if len(lines) < 2 or numbers != list(range(1, len(lines) + 1)):
        return lines
    return [_ORDINAL.sub("", line, count=1) for line in lines]

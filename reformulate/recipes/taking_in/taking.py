"""From what was read to an intake, and from a settled intake to a recipe."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import isfinite, nan
from types import MappingProxyType
from typing import Final

from reformulate.errors import BadInput, Problem
from reformulate.foods import INDEX, FoodTable
from reformulate.measures import MeasureSystem
from reformulate.recipes.matching import match_food, name_to_remember
from reformulate.recipes.reading import ReadLine
from reformulate.recipes.recipe import Line, Recipe
from reformulate.recipes.taking_in.asking import open_questions
from reformulate.recipes.taking_in.settling import settle
from reformulate.recipes.taking_in.source import Source
from reformulate.recipes.taking_in.values import Intake, IntakeLine
from reformulate.recipes.taking_in.weighing import is_beside

_PART_OF: Final = re.compile(
    r"(?:the )?(?:juice|zest|peel|rind)(?: and (?:juice|zest))?(?: of)?", re.IGNORECASE
)
_NOTHING: Final[Mapping[str, str]] = MappingProxyType({})


def take_in(
    source: Source,
    foods: FoodTable,
    system: MeasureSystem,
    remembered: Mapping[str, str] = _NOTHING,
) -> Intake:
    """Match every line of a recipe that was read to a food, weigh it and say what is open.

    Parameters
    ----------
    source : Source
        What was read. Further foods of a line become lines of their own; headings become notes.
    foods : FoodTable
        The foods to choose from.
    system : MeasureSystem
        Whose cups and spoons the amounts are written in.
    remembered : mapping
        Food keys by the user's words for them: earlier choices, which win.
    """
    known = {name_to_remember(words): food for words, food in remembered.items()}
    headings = [line.comment or line.text.strip() for line in source.lines if line.heading]
    # A missing title is asked for.
    notes = tuple(note for note in source.notes if note != "No title found.")
    if headings:
        notes = (*notes, f"Headings among the lines are not kept: {', '.join(headings)}.")
    lines = tuple(
        _line(written, read, part, foods, known)
        for written in source.lines
        if not written.heading
        for part, read in enumerate((written, *written.also))
    )
    return settle(
        Intake(
            title=source.title,
            servings=source.servings,
            servings_text=source.servings_text,
            lines=lines,
            steps=source.steps,
            claims=source.claims,
            notes=notes,
            foods=foods,
            system=system,
        )
    )


def _line(
    written: ReadLine, read: ReadLine, part: int, foods: FoodTable, remembered: Mapping[str, str]
) -> IntakeLine:
    # Where a line names several foods, the words of the others say nothing about this one.
    alone = replace(read, text=read.match_text or read.food_text) if written.also else read
    match = match_food(alone, foods, remembered)
    return IntakeLine(
        read=replace(read, text=written.text),
        match=match,
        part=part,
        food=match.food or "",
        amount=read.amount,
        prep=_prep_of(read),
    )


def _prep_of(read: ReadLine) -> str:
    """Return the preparation; that of a fruit of which only the juice is used says no more."""
    parts = [part.strip() for part in read.prep.split(",")]
    if read.juice_of:
        parts = [part for part in parts if not _PART_OF.fullmatch(part)]
    return ", ".join(part for part in parts if part)


def recipe_of(intake: Intake) -> Recipe:
    """Return the recipe of an intake in which nothing is open.

    Lines that are left out and say that they are served with the dish are named as such.

    Raises
    ------
    BadInput
        With one problem for each question that is open, or if no line is in the recipe.
    """
    problems = list(_open(intake))
    if problems:
        raise BadInput(problems)
    ids: set[str] = set()
    return Recipe(
        title=intake.title,
        servings=intake.servings or 0.0,
        lines=tuple(_recipe_line(line, ids) for line in intake.counted),
        steps=intake.steps,
        serve_with=tuple(
            dict.fromkeys(line.name for line in intake.lines if line.skipped and is_beside(line))
        ),
        claims=intake.claims,
    )


def _open(intake: Intake) -> Iterator[Problem]:
    for question in open_questions(intake):
        where = question.topic.value
        if question.line >= 0:
            where = f"“{intake.lines[question.line].written}”"
        yield Problem(where, question.words, "Answer it, or leave the line out.")
    if not intake.counted:
        yield Problem("lines", "No line is in the recipe.", "Add one, or take one in again.")


def _recipe_line(line: IntakeLine, ids: set[str]) -> Line:
    name, number = line.food, 1
    while name in ids:
        number += 1
        name = f"{line.food}-{number}"
    ids.add(name)
    return Line(
        id=name,
        food=line.food,
        amount=line.amount,
        role=line.role,
        prep=line.prep,
        text=line.read.text.strip(),
    )


def summary_of(intake: Intake) -> str:
    """Say in one sentence what the recipe comes to, as far as it is known."""
    counted = intake.counted
    count = len(counted)
    if not count:
        return "No ingredients yet."
    weights = [line.grams for line in counted if line.grams is not None]
    said = f"{count} ingredient{'s' if count != 1 else ''}, {sum(weights):.0f} g"
    if len(weights) < count:
        return f"{said} so far."
    if not intake.servings:
        return f"{said}."
    energy = sum(_energy(line, intake.foods) for line in counted)
    serving = f"a serving is {sum(weights) / intake.servings:.0f} g"
    if isfinite(energy):
        serving += f" and {energy / intake.servings:.0f} kcal"
    return f"{said}; {serving}."


def _energy(line: IntakeLine, foods: FoodTable) -> float:
    """Return what a line brings [kcal], nan where that is not known."""
    if not line.food or line.grams is None:
        return nan
    row, column = foods.index(line.food), INDEX["energy_kcal"]
    if not foods.known[row, column]:
        return nan
    return float(foods.values[row, column]) * line.grams / 100.0

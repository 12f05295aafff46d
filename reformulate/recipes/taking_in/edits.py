"""What a person decides about an intake; every edit returns a new one, and changes nothing else."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from math import isfinite

from reformulate.errors import BadInput, Problem
from reformulate.foods import FoodTable
from reformulate.measures import parse_amount, weigh
from reformulate.recipes.matching import name_to_remember
from reformulate.recipes.recipe import ROLES
from reformulate.recipes.taking_in.settling import settle
from reformulate.recipes.taking_in.values import Choice, Intake, IntakeLine, Question, Topic

MOST_SERVINGS = 10_000
"""More servings than this are a slip [count]."""


def with_title(intake: Intake, title: str) -> Intake:
    """Return the intake under a title; "" leaves the question open."""
    tidy = " ".join(title.split())
    return settle(replace(intake, title=tidy, title_given=bool(tidy)))


def with_servings(intake: Intake, servings: float) -> Intake:
    """Return the intake for so many servings [count].

    Raises
    ------
    BadInput
        If that is no number above 0 and up to ``MOST_SERVINGS``.
    """
    if not (isfinite(servings) and 0 < servings <= MOST_SERVINGS):
        raise BadInput(
            Problem(
                "servings",
                f"found {servings:g}, expected a number above 0 and up to {MOST_SERVINGS}.",
                "Write how many the recipe serves.",
            )
        )
    return settle(replace(intake, servings=float(servings), servings_given=True))


def with_food(intake: Intake, place: int, food: str, foods: FoodTable | None = None) -> Intake:
    """Return the intake with a food chosen for a line.

    Parameters
    ----------
    intake : Intake
    place : int
        Place of the line.
    food : str
        Key of the food.
    foods : FoodTable, optional
        The table that has it, where that is not the intake's: the intake goes on with this one.

    Raises
    ------
    BadInput
        If no food has that key.
    """
    table = foods or intake.foods
    table.index(food)
    line = intake.lines[place]
    chosen = replace(line, food=food, skipped=False, settled=line.settled | {Topic.FOOD})
    return settle(replace(_with_line(intake, place, chosen), foods=table))


def with_amount(intake: Intake, place: int, amount: str) -> Intake:
    """Return the intake with an amount for a line: "1 1/2 cups", "2 cloves", "120 g".

    Raises
    ------
    BadInput
        If the amount cannot be read, or the line's food has no weight for it.
    """
    line = intake.lines[place]
    parsed = parse_amount(amount)
    if line.food:
        weigh(parsed, intake.foods.food(line.food).measures, intake.system, line.prep)
    changed = replace(
        line, amount=str(parsed), skipped=False, settled=line.settled | {Topic.AMOUNT}
    )
    return settle(_with_line(intake, place, changed))


def with_role(intake: Intake, place: int, role: str) -> Intake:
    """Return the intake with a role for a line; BadInput if there is no such role."""
    if role not in ROLES:
        raise BadInput(Problem("role", f"found '{role}'.", f"Expected one of: {', '.join(ROLES)}."))
    changed = replace(intake.lines[place], role=role, role_chosen=True)
    return settle(_with_line(intake, place, changed))


def skip(intake: Intake, place: int, *, skipped: bool = True) -> Intake:
    """Return the intake with a line left out, or taken in again."""
    return settle(_with_line(intake, place, replace(intake.lines[place], skipped=skipped)))


def answered(
    intake: Intake, question: Question, choice: Choice, foods: FoodTable | None = None
) -> Intake:
    """Return the intake after one of the answers on offer was taken; errors as for the edits."""
    place = question.line
    if choice.servings is not None:
        return with_servings(intake, choice.servings)
    if choice.leaves_out:
        return skip(intake, place)
    if choice.keeps:
        line = intake.lines[place]
        kept = replace(line, settled=line.settled | {question.topic})
        return settle(_with_line(intake, place, kept))
    if choice.food:
        intake = with_food(intake, place, choice.food, foods)
        if choice.amount and choice.amount != intake.lines[place].amount:
            # An alternative has an amount of its own; where it has no weight, that is asked next.
            changed = replace(intake.lines[place], amount=choice.amount)
            intake = settle(_with_line(intake, place, changed))
        return intake
    return with_amount(intake, place, choice.amount)


def chosen_foods(intake: Intake) -> tuple[tuple[str, str], ...]:
    """Return the words and the food of every line whose food a person chose, to be remembered."""
    found = {
        name_to_remember(line.read): line.food
        for line in intake.counted
        if Topic.FOOD in line.settled and line.food
    }
    return tuple((words, food) for words, food in found.items() if words)


def carried_over(before: Intake, after: Intake) -> Intake:
    """Return ``after``, read anew from a changed text, with the decisions made in ``before``.

    A line whose text has not changed keeps all that was decided about it; one that still names the
    same food keeps its food and its role. A title and servings that a person wrote stay while any
    line does.
    """
    same: dict[tuple[str, int], list[IntakeLine]] = defaultdict(list)
    alike: dict[str, IntakeLine] = {}
    for line in before.lines:
        same[line.read.text, line.part].append(line)
        alike.setdefault(line.read.match_text, line)
    lines, kept = [], 0
    for line in after.lines:
        olds = same[line.read.text, line.part]
        if olds:
            kept += 1
            lines.append(_decided(line, olds.pop(0), after.foods))
        else:
            lines.append(_like(line, alike.get(line.read.match_text), after.foods))
    found = replace(after, lines=tuple(lines))
    if kept and before.title_given:
        found = replace(found, title=before.title, title_given=True)
    if kept and before.servings_given:
        found = replace(found, servings=before.servings, servings_given=True)
    return settle(found)


def _decided(line: IntakeLine, old: IntakeLine, foods: FoodTable) -> IntakeLine:
    found = _like(line, old, foods)
    settled = old.settled - {Topic.FOOD} | (found.settled & {Topic.FOOD})
    amount = old.amount if Topic.AMOUNT in old.settled else line.amount
    return replace(found, settled=settled, amount=amount, skipped=old.skipped)


def _like(line: IntakeLine, old: IntakeLine | None, foods: FoodTable) -> IntakeLine:
    if old is None:
        return line
    if Topic.FOOD in old.settled and old.food in foods:
        line = replace(line, food=old.food, settled=line.settled | {Topic.FOOD})
    if old.role_chosen:
        line = replace(line, role=old.role, role_chosen=True)
    return line


def _with_line(intake: Intake, place: int, line: IntakeLine) -> Intake:
    lines = intake.lines
    return replace(intake, lines=(*lines[:place], line, *lines[place + 1 :]))

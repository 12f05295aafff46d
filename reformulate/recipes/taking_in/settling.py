"""Work out anew what follows from what was read and decided: grams, roles, what is open."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from reformulate.recipes.taking_in.asking import (
    Asking,
    is_food_open,
    questions_about,
    whole_questions,
)
from reformulate.recipes.taking_in.offers import amounts_on_offer, is_salt, salt_wanted
from reformulate.recipes.taking_in.roles import guess_roles
from reformulate.recipes.taking_in.values import Choice, Intake, IntakeLine, Topic
from reformulate.recipes.taking_in.weighing import (
    UNTOLD,
    is_beside,
    share_of_food,
    share_of_line,
    weighed,
    whole_of,
)


def settle(intake: Intake) -> Intake:
    """Return the intake with grams, roles, offers and questions that agree with its decisions."""
    foods, system = intake.foods, intake.system
    lines = [weighed(line, foods, system) for line in intake.lines]
    counted = [line for line in lines if not line.skipped]
    unsalted = [
        (line, line.grams)
        for line in counted
        if line.grams is not None and not (line.food and is_salt(foods, line.food))
    ]
    rest = sum(grams for _, grams in unsalted)
    salted = sum(salt_wanted(foods, line.food, grams) for line, grams in unsalted if line.food)
    offers = [_offers(intake, line, rest, salted) for line in lines]
    likely = [_likely(line, offer, intake) for line, offer in zip(lines, offers, strict=True)]
    whole = whole_of(lines, likely, foods)
    settled = []
    for place, (line, role) in enumerate(zip(lines, _roles(intake, lines), strict=True)):
        asking = Asking(
            line=line,
            place=place,
            offers=offers[place],
            share=share_of_line(line, likely[place], foods, whole),
            foods=foods,
        )
        if is_food_open(line):
            at_stake = share_of_food(line, likely[place], foods, system, whole)
            asking = replace(asking, food_share=at_stake)
        questions = questions_about(asking)
        settled.append(replace(line, role=role, said=_said(line), questions=questions))
    return replace(intake, lines=tuple(settled), questions=whole_questions(intake, rest))


def _offers(intake: Intake, line: IntakeLine, rest: float, salted: float) -> tuple[Choice, ...]:
    """Return amounts on offer where one is wanted: most lines need none, and thousands are read."""
    if line.skipped or not (line.grams is None or line.read.asks):
        return ()
    return amounts_on_offer(line, intake.foods, intake.system, rest, salted)


def _likely(line: IntakeLine, offers: Sequence[Choice], intake: Intake) -> float:
    """Return what a line weighs, or may weigh [g]."""
    if line.skipped:
        return 0.0
    if line.grams is not None:
        return line.grams
    if offers and not is_beside(line):
        guess = weighed(replace(line, amount=offers[0].amount), intake.foods, intake.system)
        return guess.grams or UNTOLD
    return UNTOLD


def _roles(intake: Intake, lines: Sequence[IntakeLine]) -> list[str]:
    told = [line for line in lines if line.food and not line.skipped]
    foods = [intake.foods.food(line.food) for line in told]
    guessed = iter(
        guess_roles(foods, [line.grams for line in told], [line.read.text for line in told])
    )
    roles = []
    for line in lines:
        guess = next(guessed) if line.food and not line.skipped else line.role
        roles.append(line.role if line.role_chosen else guess)
    return roles


def _said(line: IntakeLine) -> tuple[str, ...]:
    """Say what was decided without asking."""
    read = line.read
    said = []
    for remark in read.remarks if line.part == 0 else ():
        shorter = remark.removeprefix("The line leaves a choice: ")
        said.append(shorter[0].upper() + shorter[1:])
    other = read.other.amount if read.other else ""
    if Topic.AMOUNT not in line.settled and line.amount != read.amount and line.amount == other:
        said.append(f"The {other} beside it is used.")
    if read.optional and not line.skipped:
        said.append("It is optional; it is counted here.")
    if line.skipped:
        said = ["Served beside, not counted." if is_beside(line) else "Left out."]
    return tuple(said)

"""What is open in an intake, as questions in plain words with answers on offer."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from reformulate.foods import FoodTable
from reformulate.recipes.reading import About, Ask, ReadLine
from reformulate.recipes.taking_in.offers import foods_on_offer, leave_out
from reformulate.recipes.taking_in.values import Choice, Intake, IntakeLine, Question, Topic
from reformulate.recipes.taking_in.weighing import is_beside

PORTIONS: Final = ((30.0, "two tablespoons, as labels count a dip"), (60.0, "a quarter of a cup"))
"""Sizes of a serving of dip [g]; two tablespoons: 21 CFR 101.12(b), about 30 g by common practice."""

_ORDER: Final = (Topic.SERVINGS, Topic.LINE, Topic.FOOD, Topic.AMOUNT, Topic.TITLE)


def open_questions(intake: Intake) -> tuple[Question, ...]:
    """Return everything that is open, most consequential first.

    The consequence is the largest share of the recipe's energy, sodium or mass that hangs on an
    answer; every figure hangs on the servings, none on the title.
    """
    found = [*intake.questions, *(one for line in intake.lines for one in line.questions)]
    return tuple(
        sorted(
            found,
            key=lambda one: (
                one.topic is not Topic.SERVINGS,
                one.topic is Topic.TITLE,
                -one.consequence,
                one.line,
                _ORDER.index(one.topic),
            ),
        )
    )


def whole_questions(intake: Intake, grams: float) -> tuple[Question, ...]:
    """Return what is open about the recipe as a whole; ``grams`` is what its lines weigh [g]."""
    found = []
    if not intake.title.strip():
        found.append(Question(topic=Topic.TITLE, words="What is the recipe called?"))
    if intake.servings is None:
        written = intake.servings_text
        found.append(
            Question(
                topic=Topic.SERVINGS,
                words="How many does it serve?",
                why=f"It says “{written}”." if written else "The text does not say.",
                consequence=1.0,
                choices=tuple(_servings_on_offer(grams)),
            )
        )
    return tuple(found)


def _servings_on_offer(grams: float) -> Iterator[Choice]:
    for portion, why in PORTIONS:
        count = round(grams / portion)
        if count >= 1:
            detail = f"of {portion:.0f} g, {why}"
            yield Choice(words=f"{count:g}", detail=detail, servings=float(count))


@dataclass(frozen=True, slots=True, kw_only=True)
class Asking:
    """A line, weighed, and what is known for asking about it."""

    line: IntakeLine
    place: int
    """Its place among the intake's lines."""
    offers: tuple[Choice, ...]
    """Amounts on offer for it."""
    share: float
    """What hangs on the line [1]."""
    food_share: float = 0.0
    """What may be wrong if its food is taken without asking [1]."""
    foods: FoodTable
    """What its food is chosen from."""


def questions_about(asking: Asking) -> tuple[Question, ...]:
    """Return what is open about one line."""
    if asking.line.skipped:
        return ()
    asked = (_about_the_line(asking), _about_food(asking), _about_amount(asking))
    return tuple(one for one in asked if one is not None)


def is_food_open(line: IntakeLine) -> bool:
    """Whether a person has to say which food a line means."""
    return Topic.FOOD not in line.settled and not (line.food and line.match.sure)


def _about_the_line(asking: Asking) -> Question | None:
    line = asking.line
    asks = [ask for ask in own_asks(line.read) if ask.about is About.LINE]
    if not asks or Topic.LINE in line.settled:
        return None
    return Question(
        topic=Topic.LINE,
        words=asks[0].question,
        line=asking.place,
        consequence=asking.share,
        choices=(Choice(words="Yes, keep it", keeps=True), leave_out(line)),
    )


def _about_food(asking: Asking) -> Question | None:
    line = asking.line
    if not is_food_open(line):
        return None
    written = f"“{line.written}”"
    if line.part or line.read.also:
        written = f"“{line.name}” in {written}"
    return Question(
        topic=Topic.FOOD,
        words=f"Which food is {written}?" if line.food else f"Which food is nearest to {written}?",
        why=line.match.why,
        line=asking.place,
        consequence=asking.food_share,
        choices=(*foods_on_offer(line, asking.foods, near_only=True), leave_out(line)),
    )


def _about_amount(asking: Asking) -> Question | None:
    line = asking.line
    asks = [ask for ask in own_asks(line.read) if ask.about in (About.AMOUNT, About.SIZE)]
    if Topic.AMOUNT in line.settled:
        asks = []
    if asks:
        # What is asked last is the most telling: "How many cans?" after "How much?"
        words = asks[-1].question
    elif not line.amount:
        words = f"How much {line.name}?"
    elif line.food and not is_food_open(line) and line.grams is None:
        words = f"How much is {line.amount} of {line.name}?"
    else:
        return None
    out = leave_out(line)
    return Question(
        topic=Topic.AMOUNT,
        words=words,
        line=asking.place,
        consequence=asking.share,
        choices=(out, *asking.offers) if is_beside(line) else (*asking.offers, out),
    )


def own_asks(read: ReadLine) -> tuple[Ask, ...]:
    """Return what the reading asks about a line's first food; further foods ask for themselves."""
    others = [ask for also in read.also for ask in also.asks]
    own = list(read.asks)
    for ask in others:
        if ask in own:
            # Those of further foods stand last.
            own.reverse()
            own.remove(ask)
            own.reverse()
    return tuple(own)

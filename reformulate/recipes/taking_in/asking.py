"""What is open in an intake, as questions in plain words with answers on offer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
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
        sorted(found, key=lambda one: (-one.consequence, one.line, _ORDER.index(one.topic)))
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


def questions_about(
    line: IntakeLine,
    place: int,
    share: float,
    amounts: Sequence[Choice],
    foods: FoodTable,
) -> tuple[Question, ...]:
    """Return what is open about one line.

    Parameters
    ----------
    line : IntakeLine
        Weighed.
    place : int
        Its place among the intake's lines.
    share : float
        What hangs on it [1].
    amounts : sequence of Choice
        Amounts on offer for it.
    foods : FoodTable
        What its food is chosen from.
    """
    if line.skipped:
        return ()
    asked = (
        _about_the_line(line, place, share),
        _about_food(line, place, share, foods),
        _about_amount(line, place, share, amounts),
    )
    return tuple(one for one in asked if one is not None)


def _about_the_line(line: IntakeLine, place: int, share: float) -> Question | None:
    asks = [ask for ask in own_asks(line.read) if ask.about is About.LINE]
    if not asks or Topic.LINE in line.settled:
        return None
    return Question(
        topic=Topic.LINE,
        words=asks[0].question,
        line=place,
        consequence=share,
        choices=(Choice(words="Yes, keep it", keeps=True), leave_out(line)),
    )


def _about_food(line: IntakeLine, place: int, share: float, foods: FoodTable) -> Question | None:
    if Topic.FOOD in line.settled or (line.food and line.match.sure):
        return None
    written = f"“{line.written}”"
    if line.part or line.read.also:
        written = f"“{line.name}” in {written}"
    return Question(
        topic=Topic.FOOD,
        words=f"Which food is {written}?" if line.food else f"Which food is nearest to {written}?",
        why=line.match.why,
        line=place,
        consequence=share,
        choices=(*foods_on_offer(line, foods), leave_out(line)),
    )


def _about_amount(
    line: IntakeLine, place: int, share: float, amounts: Sequence[Choice]
) -> Question | None:
    asks = [ask for ask in own_asks(line.read) if ask.about in (About.AMOUNT, About.SIZE)]
    if Topic.AMOUNT in line.settled:
        asks = []
    told = bool(line.food) and (Topic.FOOD in line.settled or line.match.sure)
    cannot_be_weighed = bool(line.amount) and told and line.grams is None
    if not line.amount or asks:
        # What is asked last is the most telling: "How many cans?" after "How much?"
        words = asks[-1].question if asks else f"How much {line.name}?"
    elif cannot_be_weighed:
        words = f"How much is {line.amount} of {line.name}?"
    else:
        return None
    offers = tuple(amounts)
    out = leave_out(line)
    return Question(
        topic=Topic.AMOUNT,
        words=words,
        line=place,
        consequence=share,
        choices=(out, *offers) if is_beside(line) else (*offers, out),
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

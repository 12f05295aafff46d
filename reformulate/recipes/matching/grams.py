"""What a line weighs as a given food, and what to ask where no measure fits."""

from __future__ import annotations

from reformulate.errors import BadInput
from reformulate.foods import Food
from reformulate.measures import MeasureSystem, Weighed, parse_amount, weigh
from reformulate.recipes.reading import About, Ask, ReadLine


def grams_of(line: ReadLine, food: Food, system: MeasureSystem) -> Weighed | None:
    """Return the mass of a line's amount of one food, through the food's own measures.

    Parameters
    ----------
    line : ReadLine
        The line. Where the food has no measure for its amount, the same amount in other words
        counts: the 60 g of "1 handful (60 g)".
    food : Food
        The food it means.
    system : MeasureSystem
        Whose cups and spoons the line is written in.

    Returns
    -------
    Weighed or None
        The mass [g] and its route; None where it has to be asked, by `grams_asks`.
    """
    return _weighed(line, food, system)[0]


def grams_asks(line: ReadLine, food: Food, system: MeasureSystem) -> tuple[Ask, ...]:
    """Return what to ask where `grams_of` gives nothing; none where it gives a mass.

    A line without an amount asks for it in its own ``asks``, which are not repeated here.
    """
    found, refusal = _weighed(line, food, system)
    if found is not None or not line.amount:
        return ()
    question = f"How many grams is {line.amount} of {food.name}? {refusal}".rstrip()
    return (Ask(About.AMOUNT, question),)


def _weighed(line: ReadLine, food: Food, system: MeasureSystem) -> tuple[Weighed | None, str]:
    refusal = ""
    for amount in (line.amount, line.other.amount if line.other is not None else ""):
        if not amount:
            continue
        try:
            found = weigh(parse_amount(amount), food.measures, system, line.prep)
        except BadInput as error:
            problem = error.problems[0]
            refusal = refusal or f"{problem.what} {problem.fix}"
        else:
            return found, ""
    return None, refusal

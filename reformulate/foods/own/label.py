"""An own food from a package label."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from difflib import get_close_matches

from reformulate.errors import BadInput, Problem
from reformulate.foods.own.faults import own_food_problems
from reformulate.foods.own.food import GROUP, Basis, OwnFood
from reformulate.foods.own.keys import own_key
from reformulate.foods.own.label_rounding import Rounding
from reformulate.foods.own.serving import Serving, read_serving
from reformulate.foods.own.stated import STATABLE, Stated, read_stated
from reformulate.measures import Measure


def food_from_label(
    name: str,
    stated: Mapping[str, float | str],
    *,
    serving: str = "",
    per: Basis = Basis.SERVING,
    rounding: Rounding = Rounding.US_LABEL,
    key: str = "",
    taken: Collection[str] = (),
    group: str = GROUP,
    words: Sequence[str] = (),
    measures: Sequence[Measure] = (),
    source: str = "",
    note: str = "",
) -> OwnFood:
    """Take a food from its package label.

    Parameters
    ----------
    name
        What the food is called.
    stated
        The label's figures as printed, by key of STATABLE: ``4.5``, ``"<5"``, ``"4 %"``. What it
        does not state is unknown. Carbohydrate of a label that counts fibre apart (EU, UK) is
        ``net_carbohydrate_g``.
    serving
        The line on the size of a serving: ``2 tbsp (30 g)``; "" on a label per 100 g without one.
    per
        What the figures are for. A label per 100 mL is one for a serving of 100 mL: state its mass.
    rounding
        The rule of the label.
    key
        The food's key; "" for one made of the name that is not ``taken``.
    group, words, measures, source, note
        As in `OwnFood`.

    Raises
    ------
    BadInput
        With everything that must be put right.

    Notes
    -----
    What does not agree on the label is no fault: see `own_food_findings`.
    """
    problems: list[Problem] = []
    size = Serving()
    if serving.strip():
        try:
            size = read_serving(serving)
        except BadInput as error:
            problems += error.problems
    read: list[Stated] = []
    for nutrient, value in stated.items():
        try:
            read.append(_read(nutrient, value))
        except BadInput as error:
            problems += error.problems
    food = OwnFood(
        key=key or own_key(name, taken),
        name=name,
        group=group,
        words=tuple(words),
        per=per,
        rounding=rounding,
        serving=size.amount,
        serving_grams=size.grams,
        measures=tuple(measures),
        stated=tuple(read),
        source=source or _source(size, per),
        note=note,
    )
    blamed = bool(problems) and size.grams is None
    problems += [
        problem
        for problem in own_food_problems(food)
        if not (blamed and problem.where.startswith("serving"))
    ]
    if not read and not problems:
        problems.append(Problem("label", "states nothing.", "Write at least one of its figures."))
    if problems:
        raise BadInput(problems)
    return food


def _read(nutrient: str, value: float | str) -> Stated:
    if nutrient not in STATABLE:
        near = get_close_matches(nutrient[:60], STATABLE, n=1)
        fix = f"Did you mean {near[0]}?" if near else f"Use one of: {', '.join(STATABLE)}."
        raise BadInput(Problem(f"“{nutrient[:40]}”", "is no nutrient of ours.", fix))
    return read_stated(nutrient, value)


def _source(size: Serving, per: Basis) -> str:
    if per is Basis.HUNDRED_GRAMS or size.grams is None:
        return "package label, per 100 g"
    return f"package label, per serving of {size.grams:g} g"

"""What a line leaves open, said in plain words: remarks on what was decided, and questions."""

from __future__ import annotations

from collections.abc import Sequence

from reformulate.recipes.reading.draft import Draft
from reformulate.recipes.reading.expressed import read_amount, text_of, unit_text
from reformulate.recipes.reading.values import About, Ask, ReadLine


def remarks_on(draft: Draft, amount: str, food: str) -> tuple[str, ...]:
    """Say what was decided in the reading."""
    said = []
    quantity = draft.main.quantity if draft.main else None
    if draft.main and draft.main.in_packs:
        said.append(f"'{_said(draft)}' is read as {amount}.")
    if quantity and quantity.low != quantity.high and amount:
        said.append(f"A range is written; the middle, {amount}, is used.")
    for found in draft.mentions:
        if found.unit is not None and found.unit.guessed:
            unit = unit_text(draft.line, draft.tokens, found)
            said.append(f"'{unit}' is read as {found.unit.unit}.")
    size = draft.main.size.quantity if draft.main and draft.main.size else None
    if size and size.low != size.high and amount:
        said.append(f"The size of a pack is a range; the middle is used: {amount}.")
    if draft.instead:
        other = " ".join(draft.instead)
        said.append(f"The line leaves a choice: it is read without '{other}'.")
    if draft.alternatives:
        others = " or ".join(line.match_text for line in draft.alternatives)
        said.append(f"The line leaves a choice: {food or 'the first'} is used, not {others}.")
    if draft.and_extra:
        said.append("What the line adds without an amount is not counted.")
    return tuple(said)


def asks_of(draft: Draft, amount: str, food: str, also: Sequence[ReadLine]) -> tuple[Ask, ...]:
    """Ask what only a person can say; what further foods of the line ask comes last."""
    asks = []
    if not food:
        asks.append(Ask(About.FOOD, "Which food is meant?"))
    if not amount:
        asks.append(Ask(About.AMOUNT, _how_much(draft, food)))
    asks.extend(_asks_of_packs(draft))
    asks.extend(_asks_between(draft))
    asks.extend(Ask(About.AMOUNT, f"The amount is {per}: how much in all?") for _, per in draft.per)
    asks.extend(_asks_of_weight(draft))
    asks.extend(ask for line in also for ask in line.asks)
    return tuple(asks)


def _how_much(draft: Draft, food: str) -> str:
    name = food or "of it"
    main = draft.main
    if main is not None and main.unit is not None and not draft.vague:
        return f"How much {name} is '{_said(draft)}'?"
    return f"How much {name}?" + (f" The line says '{draft.vague}'." if draft.vague else "")


def _said(draft: Draft) -> str:
    """Return the amount as written."""
    main = draft.main
    if main is None:
        return ""
    said = text_of(draft.line, draft.tokens, main.first, main.last).removesuffix(" of")
    if main.unit is not None and main.unit.first >= main.last:
        # The unit stands behind the food: 2 lime wheels.
        said = f"{said} {unit_text(draft.line, draft.tokens, main)}"
    return said


def _asks_of_packs(draft: Draft) -> list[Ask]:
    """Ask how many cans "15 oz cans" are, and how many slices "slices of bread"."""
    main = draft.main
    if main is None or main.quantity is not None or main.unit is None or draft.vague:
        return []
    packs = unit_text(draft.line, draft.tokens, main)
    return [Ask(About.AMOUNT, f"How many {packs}?")] if packs.lower().endswith("s") else []


def _asks_between(draft: Draft) -> list[Ask]:
    """Ask for one amount between two of different units."""
    main = draft.main
    if main is None or main.upper is None or main.quantity is None or main.unit is None:
        return []
    low = text_of(draft.line, draft.tokens, main.quantity.first, main.unit.last)
    high = text_of(draft.line, draft.tokens, main.upper.first, main.upper.last)
    return [Ask(About.AMOUNT, f"How much, from {low} to {high}?")]


def _asks_of_weight(draft: Draft) -> list[Ask]:
    """Ask whether the weight beside a number of pieces is that of one, or of all."""
    main = draft.main
    if main is None or main.other is None or main.quantity is None:
        return []
    if not main.is_counted and main.kind is not None:
        return []
    if main.quantity.high <= 1 or main.other.each or not main.other.is_weighed:
        return []
    weight = read_amount(draft.line, draft.tokens, main.other).text
    return [Ask(About.SIZE, f"Is {weight} the weight of one, or of all?")]

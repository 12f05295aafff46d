"""A moisture loss that does not fit what the steps do."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from reformulate.recipes.review.context import Context
from reformulate.recipes.review.fixes import SetMoisture
from reformulate.recipes.review.naming import Naming
from reformulate.recipes.review.values import Finding, Fix, Kind
from reformulate.recipes.review.words import percent

LONG_MINUTES: Final = 15.0
"""From this long a dish in the oven or simmering loses water that tells [min]."""
_USUAL_LOSS: Final = 5.0
"""Loss of a dip baked in a dish: 4 to 10 %, common practice [%]."""
_LONG_HEAT: Final = re.compile(
    r"\b(?:bak(?:e|ed|ing)|roast(?:ed|ing)?|simmer(?:ed|ing)?|boil(?:ed|ing)?|reduc(?:e|ed|ing)"
    r"|carameli[sz](?:e|ed|ing)|cook(?:ed|ing)?|fry|fried|frying|saut[ée](?:ed|ing)?|grill(?:ed|ing)?"
    r"|broil(?:ed|ing)?)\b",
    re.IGNORECASE,
)
_ANY_HEAT: Final = re.compile(
    r"oven|\bheat|\bhot\b|\bwarm|\bmelt|\btoast|\bpan\b|\bskillet|\bhob\b|\bstove|\bmicrowave|\bsteam"
    r"|\bpoach|\bblanch|\bchar\b|\bcharred|\bsear|\bsmoke the\b|\bdehydrat|\bgrill|\bbarbecue"
    r"|\bflame|\bslow cook"
    r"|\bstrain|\bdrain|\bsqueeze|\bpress(?:ed)? (?:out|dry)\b|\bhung\b|\bhang\b",
    re.IGNORECASE,
)
_COVERED: Final = re.compile(
    r"\bslow[ -]cooker|\bcover(?:ed)? (?:and|with|tightly)|\blid\b", re.IGNORECASE
)
_TIME: Final = re.compile(
    r"(?<![\d.])(\d{1,3}(?:\.\d)?)(?:\s*(?:-|–|to|or)\s*(\d{1,3}(?:\.\d)?))?\s*(minutes?|mins?|hours?|hrs?|h)\b",
    re.IGNORECASE,
)
_HALF: Final = re.compile(r"\b(?:half an|an|one) hour\b", re.IGNORECASE)
_SMALL: Final = re.compile(
    r"\b(?:egg|potato|bean|chickpea|lentil|pasta|rice|crouton|chips?|nut)s?\b"
)
"""What is cooked by itself, in water or dry, before it goes in."""


def find_moisture(context: Context, naming: Naming) -> Iterator[Finding]:
    """Find a loss without heat, and long heat without a loss."""
    loss = context.recipe.moisture_loss_percent
    cooking = [sentence for sentence in naming.sentences if not sentence.advice]
    if not cooking:
        return
    if loss > 0 and not any(
        _LONG_HEAT.search(one.text) or _ANY_HEAT.search(one.text) for one in cooking
    ):
        yield Finding(
            kind=Kind.MOISTURE,
            where="",
            what=f"{percent(loss / 100)} of the mass is said to be lost, and no step heats anything.",
            why="A dish that is not cooked keeps its water; a loss makes a serving smaller and richer on "
            "paper only. Weigh the finished batch, or write no loss.",
            confidence=0.55,
            gravity=min(1.0, loss / 50 + 0.2),
            fix=Fix(words="Write no loss", apply=SetMoisture(percent=0.0)),
        )
    if loss == 0:
        for sentence in cooking:
            minutes = minutes_of_heat(sentence.text)
            if minutes >= LONG_MINUTES:
                yield _none_stated(sentence.step, minutes)
                return


def minutes_of_heat(sentence: str) -> float:
    """Return for how long a sentence cooks an open dish [min]; the end of a range, 0 for none.

    >>> minutes_of_heat("Bake for 20 to 25 minutes until golden."), minutes_of_heat("Chill for 1 hour.")
    (25.0, 0.0)
    """
    if not _LONG_HEAT.search(sentence) or _COVERED.search(sentence) or _SMALL.search(sentence):
        return 0.0
    found = [
        float(last or first) * (60.0 if unit.lower().startswith("h") else 1.0)
        for first, last, unit in _TIME.findall(sentence)
    ]
    found += [30.0 if "half" in one.lower() else 60.0 for one in _HALF.findall(sentence)]
    return max(found, default=0.0)


def _none_stated(step: int, minutes: float) -> Finding:
    return Finding(
        kind=Kind.MOISTURE,
        where=f"step {step}",
        what=f"The step cooks for {minutes:g} minutes, and no moisture is said to be lost.",
        why=f"From {LONG_MINUTES:.0f} minutes an open dish loses water: 4 to 10 % in the oven, more in a "
        "pan. Figures per 100 g and the size of a serving hang on it. Weigh the finished batch.",
        confidence=0.5,
        gravity=0.3,
        fix=Fix(
            words=f"Write {_USUAL_LOSS:g} % lost, as is usual",
            apply=SetMoisture(percent=_USUAL_LOSS),
        ),
    )

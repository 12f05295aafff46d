"""Cans and jars of which it is not clear whether the drained weight is meant."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final

from reformulate.measures.amount import Term
from reformulate.measures.words import Kind as UnitKind
from reformulate.measures.words import kind_of
from reformulate.recipes.review.context import Context, LineSeen, parsed
from reformulate.recipes.review.fixes import SayDrained
from reformulate.recipes.review.phrases import plain_words
from reformulate.recipes.review.values import Finding, Fix, Kind
from reformulate.recipes.review.words import grams_words

_SAYS: Final = re.compile(
    r"\b(?:un)?drain(?:ed|ing)?\b|\brinsed?\b|\bsqueezed?\b|\bpressed\b|\bwith (?:its|their|the|all) "
    r"(?:liquid|juices?|brine|oil|syrup)|\bliquid (?:reserved|and all|included)|\bnot drained\b"
    r"|\b(?:pulled|lifted|taken) from the (?:oil|brine|jar)\b",
    re.IGNORECASE,
)
_SAYS_DRAINED: Final = re.compile(r"(?<!un)(?<!not )\bdrained\b|\brinsed\b", re.IGNORECASE)
_SENTENCES: Final = re.compile(r"(?<=[.!?;])\s+")
_CANS: Final = frozenset({"can", "tin", "jar"})
_CAN_SIZES: Final = (142.0, 170.0, 340.0, 397.0, 400.0, 411.0, 425.0, 439.0, 454.0, 800.0, 822.0)
"""Net weights that cans are sold in [g]: from memory."""
_WITH_LIQUID: Final = re.compile(
    r"paste|tomato|pur[ée]e|sauce|juice|cream|milk|refried|crushed|pumpkin|chipotle|liquid",
    re.IGNORECASE,
)
"""Foods in cans that are eaten with all that is in them."""
_GROUPS: Final = frozenset(
    {
        "Beans and lentils",
        "Fish and shellfish",
        "Pickles and olives",
        "Vegetables",
        "Fruit",
        "Meat and poultry",
    }
)


def find_drained(context: Context) -> Iterator[Finding]:
    """Find canned foods whose weight may be that of the can or that of its contents."""
    told = [s for s in _SENTENCES.split(" ".join(context.recipe.steps)) if _SAYS.search(s)]
    for seen in context.lines:
        if not _is_told(seen, told):
            yield from _in_line(seen, context)


def _is_told(seen: LineSeen, sentences: Sequence[str]) -> bool:
    """Whether a step says that the food is drained: its own word stands in the sentence."""
    name = plain_words(seen.source.food_text)[-1:] if seen.source else ()
    return any(word in plain_words(sentence) for sentence in sentences for word in name)


def _in_line(seen: LineSeen, context: Context) -> Iterator[Finding]:
    amount = parsed(seen.line.amount) if seen.line.amount else None
    terms = amount.terms if amount is not None else ()
    packs = [term for term in terms if term.unit in _CANS]
    if packs:
        yield from _pack(packs[0], seen, context)
    elif _is_sold_in_liquid(seen) and not _SAYS.search(seen.said):
        grams = seen.grams if seen.line.grams is not None or _is_mass(terms) else 0.0
        if any(abs(grams - size) <= 0.004 * size for size in _CAN_SIZES):
            yield _whole_can(seen, context)
    if "solids and liquid" in seen.food.note.lower() and _SAYS_DRAINED.search(seen.said):
        yield _finding(
            seen,
            context,
            what=f"The line drains {_name(seen).lower()}, and the table has figures of solids and "
            "liquid only.",
            confidence=0.5,
            hangs=0.1,
            fix=None,
        )


def _pack(pack: Term, seen: LineSeen, context: Context) -> Iterator[Finding]:
    said = _SAYS.search(seen.said)
    if said is None and "drained" in seen.route:
        yield _finding(
            seen,
            context,
            what=f"{seen.line.written} of {_name(seen).lower()}: {grams_words(seen.grams)} drained is "
            "counted, and the line does not say that it is drained.",
            confidence=0.75,
            hangs=0.4,
            fix=Fix(words="Write drained", apply=SayDrained(line=seen.line.id)),
        )
    elif said is None and _is_sold_in_liquid(seen):
        yield _finding(
            seen,
            context,
            what=f"{seen.line.written} of {_name(seen).lower()}: {grams_words(seen.grams)}, all that is "
            "in it, is counted, and the line does not say whether it is drained.",
            confidence=0.55,
            hangs=0.4,
            fix=None,
        )
    elif said is not None and "No drained weight is known" in seen.route and pack.size is not None:
        yield _finding(
            seen,
            context,
            what=f"The line drains {_name(seen).lower()}, and the whole {pack.size} of each {pack.unit} is "
            "counted.",
            confidence=0.8,
            hangs=0.4,
            fix=None,
        )


def _whole_can(seen: LineSeen, context: Context) -> Finding:
    size = f"{seen.grams:.0f} g"
    can = f"1 can ({size})"
    amount = parsed(can)
    has_can = any(measure.unit == "can" for measure in seen.food.measures)
    return _finding(
        seen,
        context,
        what=f"{seen.line.written} of {_name(seen).lower()} is what a whole can holds, and it is "
        "counted as drained.",
        confidence=0.6,
        hangs=0.4,
        fix=Fix(
            words=f"Count what is left of {can}, drained",
            apply=SayDrained(line=seen.line.id, amount=can),
        )
        if has_can and amount is not None
        else None,
    )


def _finding(
    seen: LineSeen, context: Context, *, what: str, confidence: float, hangs: float, fix: Fix | None
) -> Finding:
    return Finding(
        kind=Kind.DRAINED,
        where=seen.line.id,
        what=what,
        why="A can of beans or fish is about two fifths liquid, and its salt goes with it. "
        "Say whether it is drained, and weigh what is used.",
        confidence=confidence,
        gravity=max(0.15, context.hangs_on(seen.number, hangs * seen.grams)),
        fix=fix,
    )


def _is_sold_in_liquid(seen: LineSeen) -> bool:
    name = seen.food.name.lower()
    if seen.food.group not in _GROUPS or _WITH_LIQUID.search(name):
        return False
    canned = "canned" in name or "in jar" in name or "pickled" in name
    drained = any("drained" in measure.qualifier for measure in seen.food.measures)
    return canned or drained or (seen.food.group == "Pickles and olives" and "relish" not in name)


def _is_mass(terms: tuple[Term, ...]) -> bool:
    return bool(terms) and all(kind_of(term.unit) is UnitKind.MASS for term in terms)


def _name(seen: LineSeen) -> str:
    return seen.food.name.partition(",")[0]

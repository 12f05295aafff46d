"""Goals, holds and swaps as they are written on the command line."""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from dataclasses import replace
from difflib import get_close_matches
from math import isfinite

from reformulate.brief import (
    BatchHold,
    Brief,
    CharacterHold,
    Goal,
    Hold,
    Limits,
    LineHold,
    Manner,
    Per,
    RatioHold,
    RoleHold,
    Swap,
    read_limits,
    subject_of,
)
from reformulate.errors import BadInput, Problem
from reformulate.foods import CHARACTER, QUANTITY_INDEX, quantity_named
from reformulate.recipes import ROLES, Recipe

_HOLD_FORMS = (
    "Expected WHAT=HOW, e.g. batch=2%, flavouring:base=15%, garlic=lock, saltiness=0.8-1.2."
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add goals, holds and swaps to a command."""
    for side in ("at-most", "at-least"):
        parser.add_argument(
            f"--{side}",
            action="append",
            default=[],
            metavar="NUTRIENT=VALUE",
            help=f"a goal, e.g. --{side} energy_kcal=130; takes the place of the file's goal on it",
        )
    parser.add_argument(
        "--per",
        choices=[Per.SERVING.value, Per.HUNDRED_GRAMS.value],
        default=Per.SERVING.value,
        help="what the values of --at-most and --at-least are per, and the reach where there is no goal",
    )
    parser.add_argument(
        "--hold",
        action="append",
        default=[],
        metavar="WHAT=HOW",
        help="a hold: WHAT is batch, a line, a role, A:B for a ratio, or a property of taste and "
        "texture; HOW is lock, 15%%, 50-80, or free to let it go",
    )
    parser.add_argument(
        "--swap",
        action="append",
        default=[],
        metavar="FOOD=LINE,...",
        help="let a food stand in for lines; --swap FOOD alone allows a swap the file has",
    )
    parser.add_argument("--max-swaps", type=int, metavar="N", help="use at most so many swaps")
    parser.add_argument(
        "--manner",
        choices=[manner.value for manner in Manner],
        help="what closest to the original means: fewest changes, gentlest change, closest character",
    )


def brief_with(options: argparse.Namespace, brief: Brief, recipe: Recipe) -> Brief:
    """Return a brief with what the command line asks for put in.

    Raises
    ------
    BadInput
        With everything that cannot be read.
    """
    problems: list[Problem] = []
    brief = replace(brief, shown_per=Per(options.per))
    if options.manner:
        brief = replace(brief, manner=Manner(options.manner))
    if options.max_swaps is not None:
        brief = replace(brief, max_swaps=options.max_swaps)
    try:
        for goal in read_goals(options.at_least, options.at_most, Per(options.per)):
            brief = brief.with_goal(goal)
    except BadInput as error:
        problems += error.problems
    for text in options.hold:
        try:
            brief = _with_hold(brief, text, recipe)
        except BadInput as error:
            problems += error.problems
    for text in options.swap:
        try:
            brief = _with_swap(brief, text)
        except BadInput as error:
            problems += error.problems
    if problems:
        raise BadInput(problems)
    return brief


def read_goals(at_least: list[str], at_most: list[str], per: Per) -> tuple[Goal, ...]:
    """Read goals written ``nutrient=value``; both sides of one nutrient make one goal.

    Raises
    ------
    BadInput
        With every goal that cannot be read.
    """
    limits: dict[str, dict[str, float]] = {}
    problems = []
    for side, texts in (("at_least", at_least), ("at_most", at_most)):
        for text in texts:
            option = f"--{side.replace('_', '-')} {text}"
            key, equals, value = (part.strip() for part in text.partition("="))
            if not equals:
                problems.append(
                    Problem(option, "has no '='.", "Expected NUTRIENT=VALUE, e.g. energy_kcal=130.")
                )
            elif key not in QUANTITY_INDEX:
                problems.append(
                    Problem(option, f"found the nutrient '{key}'.", near(key, QUANTITY_INDEX))
                )
            elif (limit := _number(value)) is None:
                problems.append(
                    Problem(option, f"found the value '{value}'.", "Expected a number, 0 or more.")
                )
            elif side in limits.get(key, {}):
                problems.append(Problem(option, "is given twice.", "Keep one of them."))
            else:
                limits.setdefault(key, {})[side] = limit
    if problems:
        raise BadInput(problems)
    return tuple(
        Goal(nutrient=key, per=per, at_least=sides.get("at_least"), at_most=sides.get("at_most"))
        for key, sides in limits.items()
    )


def near(word: str, known: Iterable[str]) -> str:
    """Return what may have been meant, or all there is."""
    found = get_close_matches(word, list(known), n=1, cutoff=0.4)
    return f"Did you mean '{found[0]}'?" if found else f"Expected one of: {', '.join(known)}."


def _with_hold(brief: Brief, text: str, recipe: Recipe) -> Brief:
    """Put a hold in the place of the one on the same thing; ``free`` only lets that one go."""
    option = f"--hold {text}"
    what, equals, how = (part.strip() for part in text.partition("="))
    if not equals or not what or not how:
        raise BadInput(Problem(option, "cannot be read.", _HOLD_FORMS))
    subject = _subject_hold(option, what, recipe)
    holds = [hold for hold in brief.holds if subject_of(hold) != subject_of(subject)]
    if how != "free":
        holds.append(_held(option, subject, how))
    return replace(brief, holds=tuple(holds))


def _subject_hold(option: str, what: str, recipe: Recipe) -> Hold:
    """Return a hold on what is named, to be given its limits."""
    lines = [line.id for line in recipe.lines]
    if what == "batch":
        return BatchHold()
    if what in [kind.key for kind in CHARACTER]:
        return CharacterHold(quality=what)
    if ":" in what:
        of, _, to = what.partition(":")
        return RatioHold(of=_group(of), to=_group(to))
    if what in lines:
        return LineHold(line=what)
    if what in ROLES:
        return RoleHold(role=what)
    known = ["batch", *lines, *ROLES, *(kind.key for kind in CHARACTER)]
    raise BadInput(Problem(option, f"found '{what}'.", near(what, known)))


def _group(text: str) -> tuple[str, ...]:
    names = [name.strip() for name in text.split("+")]
    return tuple(f"role:{name}" if name in ROLES else name for name in names)


def _held(option: str, hold: Hold, how: str) -> Hold:
    if how == "lock" and isinstance(hold, LineHold):
        return replace(hold, tolerance=0.0)
    unit = quantity_named(hold.quality).unit if isinstance(hold, CharacterHold) else "g"
    limits = read_limits(how, unit)
    if limits is not None and isinstance(hold, LineHold):
        return replace(hold, tolerance=limits.tolerance, least=limits.least, most=limits.most)
    if limits is not None and isinstance(hold, CharacterHold):
        return replace(hold, tolerance=limits.tolerance, at_least=limits.least, at_most=limits.most)
    if (
        limits is not None
        and limits.tolerance is not None
        and limits == Limits(tolerance=limits.tolerance)
    ):
        return replace(hold, tolerance=limits.tolerance)
    raise BadInput(Problem(option, f"found '{how}'.", _HOLD_FORMS))


def _with_swap(brief: Brief, text: str) -> Brief:
    food, equals, lines = (part.strip() for part in text.partition("="))
    if not equals:
        if all(swap.food != food for swap in brief.swaps):
            raise BadInput(
                Problem(
                    f"--swap {text}",
                    "the file has no such swap.",
                    "Say what it stands in for: --swap FOOD=LINE,LINE.",
                )
            )
        swaps = [replace(s, allowed=True) if s.food == food else s for s in brief.swaps]
        return replace(brief, swaps=tuple(swaps))
    ids = tuple(line.strip() for line in lines.split(",") if line.strip())
    kept = tuple(s for s in brief.swaps if (s.food, s.stands_in_for) != (food, ids))
    return replace(brief, swaps=(*kept, Swap(food=food, stands_in_for=ids)))


def _number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if isfinite(value) and value >= 0 else None

"""Two amounts on one line that disagree, and figures that belong to another amount."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import isclose
from typing import Final

from reformulate.measures.words import Kind as UnitKind
from reformulate.measures.words import kind_of
from reformulate.recipes.review.context import Context, LineSeen, parsed
from reformulate.recipes.review.fixes import SetAmount
from reformulate.recipes.review.stated import Stated, pack_sizes, stated_amounts
from reformulate.recipes.review.tolerance import rounding, tolerance
from reformulate.recipes.review.values import Finding, Fix, Kind
from reformulate.recipes.review.words import grams_words, percent

_TIMES: Final = (
    (2.0, "twice as much"),
    (1 / 2, "half as much"),
    (3.0, "three times as much"),
    (1 / 3, "a third as much"),
    (4.0, "four times as much"),
    (1 / 4, "a quarter as much"),
    (10.0, "ten times as much"),
    (1 / 10, "a tenth as much"),
)
_NEAR_TIMES: Final = 0.10
"""How near a figure must be to a multiple to be taken for it [fraction]."""
_NEAR_OTHER: Final = 0.03
"""How near to another line's mass to be taken for that line's figure [fraction]."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Pair:
    """Two amounts of one line: the household one, and the figure beside it."""

    seen: LineSeen
    household: Stated
    figure: Stated
    share: float
    """How far they may lie apart [fraction]."""

    @property
    def disagree(self) -> bool:
        """Whether they lie further apart than that and the rounding of the figure."""
        if self._volumes is not None:
            one, other = self._volumes
            slack = rounding(other)
            return not one / (1 + self.share) - slack <= other <= one * (1 + self.share) + slack
        grams, slack = self.figure.usual, rounding(self.figure.usual)
        low = self.household.low / (1 + self.share) - slack
        high = self.household.high * (1 + self.share) + slack
        if low <= grams <= high:
            return False
        return not self._is_of_one_piece(low, high)

    @property
    def _volumes(self) -> tuple[float, float] | None:
        if self.household.volume is None or self.figure.volume is None:
            return None
        return self.household.volume, self.figure.volume

    @property
    def times(self) -> float:
        """The figure over the household amount [fraction]."""
        if self._volumes is not None:
            return self._volumes[1] / self._volumes[0]
        return self.figure.usual / self.household.usual

    def _is_of_one_piece(self, low: float, high: float) -> bool:
        """Whether "3 cloves (4 g)" gives the weight of each."""
        (term, *more) = self.household.amount.terms
        if more or kind_of(term.unit) not in (UnitKind.COUNT, UnitKind.PACK) or term.quantity <= 1:
            return False
        quantity = float(term.quantity)
        return low <= self.figure.usual * quantity <= high


def find_disagreeing(context: Context) -> Iterator[Finding]:
    """Find lines whose household and metric amounts disagree by the food's own measures."""
    pairs = [pair for seen in context.lines for pair in _pairs(seen, context)]
    wrong = [pair for pair in pairs if pair.disagree]
    told: set[int] = set()
    for pair in wrong:
        if pair.seen.number not in told:
            told.add(pair.seen.number)
            yield _finding(pair, wrong, context)


def _pairs(seen: LineSeen, context: Context) -> Iterator[Pair]:
    for amounts in (
        stated_amounts(seen, context.system),
        pack_sizes(seen, context.system),
    ):
        for figure in amounts[1:]:
            if _comparable(amounts[0], figure):
                share = tolerance(amounts[0], figure, seen.food)
                yield Pair(seen=seen, household=amounts[0], figure=figure, share=share)


def _comparable(one: Stated, other: Stated) -> bool:
    """Whether one of the two is exact: "1 banana (about 1 cup)" and "16 oz, 1 jar" never are."""
    if any(amount.is_unsized_pack for amount in (one, other)):
        return False
    return one.is_mass or other.is_mass or one.is_metric or other.is_metric


def _finding(pair: Pair, wrong: list[Pair], context: Context) -> Finding:
    seen, household, figure = pair.seen, pair.household, pair.figure
    name = seen.food.name.partition(",")[0]
    right = grams_words(household.usual)
    kind, belongs, confidence = _whose(pair, wrong, context)
    if pair.share and kind is Kind.AMOUNTS:
        far = max(pair.times, 1 / pair.times) - 1
        confidence = 0.9 if far > 2 * pair.share else 0.7
    off = figure.usual - household.usual
    return Finding(
        kind=kind,
        where=seen.line.id,
        what=f"{name}: {household.amount} is {right}, and the line says {figure.written}{belongs}.",
        why=f"By {seen_source(pair)}; up to {percent(pair.share)} apart, and rounding, is let pass. "
        "Weigh it once and write one of the two.",
        confidence=confidence,
        gravity=max(0.1, context.hangs_on(seen.number, off)),
        fix=_fix(pair),
    )


def seen_source(pair: Pair) -> str:
    """Say by what measure of the food an amount was weighed."""
    return "the food's own measures" if pair.household.usual != pair.seen.grams else pair.seen.route


def _whose(pair: Pair, wrong: list[Pair], context: Context) -> tuple[Kind, str, float]:
    """Say to which amount the figure belongs, and how surely."""
    for other in wrong:
        if other.seen.number != pair.seen.number and _is_that_of(pair, other.household.usual):
            if _is_that_of(other, pair.household.usual):
                return (
                    Kind.FIGURE,
                    f", the figure of {other.seen.line.id}: the two are swapped",
                    0.95,
                )
            return Kind.FIGURE, f", the figure of {other.seen.line.id}", 0.9
    for factor, words in _TIMES:
        if isclose(pair.times, factor, rel_tol=_NEAR_TIMES):
            return Kind.FIGURE, f", {words}", 0.9
    volume = pair.household.volume
    if volume and pair.figure.is_mass and isclose(pair.figure.usual, volume, rel_tol=_NEAR_TIMES):
        return Kind.FIGURE, ", which is its volume in millilitres", 0.85
    for seen in context.lines:
        if seen.number != pair.seen.number and _is_that_of(pair, seen.grams):
            return Kind.FIGURE, f", which is what {seen.line.id} weighs", 0.75
    return Kind.AMOUNTS, "", 0.7


def _is_that_of(pair: Pair, grams: float) -> bool:
    return pair.figure.is_mass and isclose(
        pair.figure.usual, grams, rel_tol=_NEAR_OTHER, abs_tol=rounding(pair.figure.usual)
    )


def _fix(pair: Pair) -> Fix | None:
    """Trust the household amount, and write the figure that goes with it."""
    line, household, figure = pair.seen.line, pair.household, pair.figure
    if household.volume is not None and figure.volume is not None:
        return None
    if line.amount and parsed(line.amount) != household.amount and line.grams is None:
        # The size of a pack: the amount itself may be right.
        return None
    right = grams_words(household.usual)
    text = line.text.replace(figure.written, right, 1) if figure.written in line.text else ""
    return Fix(
        words=f"Take {household.amount} ({right})",
        apply=SetAmount(line=line.id, amount=str(household.amount), text=text),
    )

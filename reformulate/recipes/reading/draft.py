"""A line while it is read: what has been found in it so far."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from reformulate.recipes.reading.food import FoodWords, phrase
from reformulate.recipes.reading.found import Found
from reformulate.recipes.reading.scan import Token
from reformulate.recipes.reading.values import ReadLine


@dataclass(slots=True)
class Span:
    """A piece of the line [characters], and whether it tells of preparation."""

    start: int
    end: int
    is_prep: bool


@dataclass(slots=True)
class Draft:
    """What has been found in a line so far."""

    line: str
    """The line as written."""
    tokens: Sequence[Token]
    main: Found | None = None
    """The amount of the food."""
    starts_vague: tuple[int, str] | None = None
    """Words in the place of a number at the start: place [characters] and text, "a few"."""
    left_to_cook: str = ""
    """The words that leave the amount to the cook: "to taste"."""
    per: list[tuple[int, str]] = field(default_factory=list)
    """What the amount is for one of: place [characters] and text, "per person"."""
    names: tuple[tuple[Token, ...], ...] = ()
    """The words of each food that is named at once."""
    match: list[Token] = field(default_factory=list)
    """The foods with the words that describe them, in the order of the line."""
    further_match: list[str] = field(default_factory=list)
    """What stands elsewhere in the line and tells which food is meant."""
    done: list[str] = field(default_factory=list)
    """Preparation words that stand before the food."""
    makers: list[str] = field(default_factory=list)
    """Trade names."""
    instead: list[str] = field(default_factory=list)
    """Describing words that "or" offers in another's place."""
    sizes: list[str] = field(default_factory=list)
    """Words such as large, which say which measure of a piece is meant."""
    spans: list[Span] = field(default_factory=list)
    """Preparation and remarks beside the food."""
    optional: bool = False
    divided: bool = False
    and_extra: bool = False
    fruit_part: str = ""
    """What of a fruit is used: juice, zest; "" where all of it is."""
    alternatives: list[ReadLine] = field(default_factory=list)
    also: list[ReadLine] = field(default_factory=list)
    mentions: list[Found] = field(default_factory=list)
    """Every amount that counts as one."""
    foods: list[tuple[int, str]] = field(default_factory=list)
    """Every food: place [characters] and text."""

    @property
    def known(self) -> frozenset[str]:
        """The words of the foods named so far."""
        return frozenset(word.low for name in self.names for word in name)

    @property
    def vague(self) -> str:
        """The words that stand in the place of a number; "" where there are none."""
        return self.starts_vague[1] if self.starts_vague else self.left_to_cook

    def take_words(self, words: FoodWords) -> None:
        """Keep a food's name and what stands before it."""
        self.match.extend(words.match)
        self.done.extend(words.done)
        self.sizes.extend(words.sizes)
        self.makers.extend(words.makers)
        self.instead.extend(words.instead)
        if words.names:
            self.names = words.names
            self.foods.extend((name[0].start, phrase(name)) for name in words.names)

    def note(self, start: int, end: int, *, is_prep: bool) -> None:
        """Keep a piece of the line as preparation or remark."""
        if start < end:
            self.spans.append(Span(start, end, is_prep))

    def extend_note(self, start: int, end: int) -> bool:
        """Let the last note run on to ``end``; False where it does not reach ``start``."""
        if not self.spans or self.line[self.spans[-1].end : start].strip(" .)"):
            return False
        self.spans[-1].end = end
        return True

"""The unit words of ingredient lines: those of amounts, and the looser ones cooks also use."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from rapidfuzz.distance import OSA

from reformulate.measures.words import SPELLINGS, UNITS, Kind, canonical_unit
from reformulate.recipes.reading.quantity import word_at
from reformulate.recipes.reading.scan import Sort, Token
from reformulate.recipes.reading.word_sets import word_set

LENGTHS: Final = frozenset(
    {"inch", "inches", "cm", "centimetre", "centimetres", "centimeter", "centimeters", "mm"}
    | {'"', "″", "”"}
)
"""Sizes of a piece, which weigh nothing by themselves."""

# Words for an amount that are foods or descriptions more often in a line ("12 crackers", "whole").
_NO_UNITS: Final = word_set("each whole root roots ring rings cracker crackers pat")

_FURTHER: Final = {
    "pack": "envelope envelopes env pkge tube tubes sachet sachets pk pks packets pkgs pkts punnet punnets "
    "sleeve sleeves tray trays",
    "block": "bar bars slab slabs",
    "bunch": "bundle bundles",
    "handful": "handsful fistful fistfuls",
    "jar": "jarful",
    "piece": "pce pces",
    "slice": "rasher rashers",
    "sprig": "stem stems twig twigs",
    "cup": "cupful cupfuls",
    "tbsp": "tablespoonful tablespoonfuls tb tbls tbp tlbs",
    "tsp": "teaspoonful teaspoonfuls teasp",
    # How the food comes, but no amount that the household measures know.
    "": "dozen doz part parts measure measures spoon spoons spoonful spoonfuls scoopful ladle ladleful "
    "ladlefuls shot shots jigger jiggers splash splashes drizzle drizzles glug glugs dollop dollops "
    "lug lugs slosh sloshes dab dabs smear smears swirl swirls scattering shake shakes twist twists "
    "curl curls fifth fifths dram drams hunk hunks quantity quantities mugful mugfuls bowlful "
    "tumbler tumblers wineglass wineglasses teacup teacups scrape scrapes grating gratings "
    "squeeze squeezes squirt squirts spritz sprinkle sprinkling grind grinds grinding turn turns "
    "pump pumps knob knobs thumb bowl bowls glass glasses mug mugs pot pots bucket basket baskets "
    "case cases batch batches recipe serving servings portion portions cake cakes wheel wheels log "
    "logs ball balls chunk chunks layer layers square squares segment segments rack racks crown crowns",
}

# Two words that together name a food, so that the first counts nothing.
_PAIRS: Final = {
    "bar": {"mix"},
    "cake": {"mix", "mixes", "flour", "crumbs", "decorations", "layers"},
    "cube": {"steak", "steaks"},
    "drop": {"biscuits"},
    "fillet": {"mignon", "steak", "steaks"},
    "glass": {"noodles"},
    "head": {"cheese"},
    "layer": {"cake"},
    "leaf": {"lettuce", "spinach", "lard"},
    "loaf": {"cake", "pan"},
    "pod": {"peas"},
    "pot": {"roast", "stickers"},
    "rib": {"eye", "eyes", "roast", "steak", "steaks"},
    "roll": {"wrappers", "dough"},
    "sheet": {"cake"},
    "square": {"cake"},
    "stick": {"pretzels"},
    "strip": {"steak", "steaks", "loin"},
}

# A slip of the finger is forgiven in these only: near shorter words stand foods.
_LONG_WORDS: Final = (
    *("tablespoon", "tablespoons", "teaspoon", "teaspoons", "ounce", "ounces", "pound", "pounds"),
    *("package", "packages", "container", "containers", "milliliter", "milliliters", "handful"),
    *("millilitre", "millilitres", "kilogram", "kilograms", "gallon", "gallons", "envelope"),
    *("quarts", "sprigs", "pinches", "bunches"),
)
_SHORTEST_GUESSED: Final = 5
_SOLD_WHOLE: Final = word_set("pot pots ball balls log logs wheel wheels")


@dataclass(frozen=True, slots=True)
class UnitFound:
    """A unit word in a line."""

    unit: str
    """Canonical word, "" where household measures have none for it."""
    first: int
    """Index of its first token."""
    last: int
    """Index after its last token."""
    guessed: bool = False
    """Whether its spelling was mended."""
    is_sold_whole: bool = False
    """Whether it is a pack or a piece of any size that household measures do not know: a pot, a ball."""

    @property
    def kind(self) -> Kind | None:
        """What it measures; None where that is not known."""
        return UNITS[self.unit].kind if self.unit else None

    @property
    def has_a_size(self) -> bool:
        """Whether it is a pack whose size may be given; a stick is a measure of its own."""
        return self.is_sold_whole or (self.kind is Kind.PACK and self.unit != "stick")


_WORDS: Final[dict[str, str]] = {
    spelling: unit
    for spelling, unit in SPELLINGS.items()
    if spelling not in _NO_UNITS and " " not in spelling
} | {word: unit for unit, words in _FURTHER.items() for word in words.split()}
_TWO_WORDS: Final = {spelling: unit for spelling, unit in SPELLINGS.items() if " " in spelling}


def unit_at(tokens: Sequence[Token], at: int, *, after_number: bool = True) -> UnitFound | None:
    """Read the unit word at token ``at``; None where there is none.

    Parameters
    ----------
    tokens : sequence of Token
        The line.
    at : int
        Where the unit would start.
    after_number : bool
        Whether a number stands before it, which lets single letters and slips of the finger count.
    """
    if at >= len(tokens) or tokens[at].sort is not Sort.WORD:
        return UnitFound("", at, at + 1) if after_number and _is_inch_mark(tokens, at) else None
    two = _two_words_at(tokens, at)
    if two is not None:
        return two
    token = tokens[at]
    if len(token.text) <= 2 and not after_number:
        return None
    if token.low in LENGTHS:
        return UnitFound("", at, _past_point(tokens, at))
    unit = canonical_unit(token.text) if len(token.text) <= 2 else None
    if unit is None:
        unit = _WORDS.get(token.low)
    guessed = False
    if unit is None and after_number:
        unit = _mended(token.low)
        guessed = unit is not None
    if unit is None or _belongs_to_a_food(tokens, at):
        return None
    whole = token.low in _SOLD_WHOLE
    return UnitFound(unit, at, _past_point(tokens, at), guessed, whole)


def _is_inch_mark(tokens: Sequence[Token], at: int) -> bool:
    """Whether a mark that touches a number says inches: 1" cubes."""
    return (
        0 < at < len(tokens)
        and tokens[at].text in LENGTHS
        and tokens[at - 1].end == tokens[at].start
    )


def _belongs_to_a_food(tokens: Sequence[Token], at: int) -> bool:
    after = word_at(tokens, at + 1)
    return bool(after) and after in _PAIRS.get(tokens[at].low, ())


def _two_words_at(tokens: Sequence[Token], at: int) -> UnitFound | None:
    second = at + 1
    if word_at(tokens, second) in {".", "-"}:
        second += 1
    if tokens[at].low not in {"fl", "fluid"} or second >= len(tokens):
        return None
    unit = _TWO_WORDS.get(f"{tokens[at].low} {tokens[second].low}")
    if unit is None and tokens[second].low in {"oz", "ozs", "ounce", "ounces"}:
        unit = "fl oz"
    return UnitFound(unit, at, _past_point(tokens, second)) if unit else None


def _past_point(tokens: Sequence[Token], at: int) -> int:
    """Step over the unit and the full stop of an abbreviation, which touches it."""
    after = at + 1
    if word_at(tokens, after) == "." and tokens[after].start == tokens[at].end:
        after += 1
    return after


@lru_cache(maxsize=4096)
def _mended(word: str) -> str | None:
    """Return the unit whose long name ``word`` misses by one slip (two in long ones)."""
    if not _SHORTEST_GUESSED <= len(word) <= 14 or word.endswith("ed"):
        return None
    for name in _LONG_WORDS:
        slips = 2 if len(name) >= 8 else 1
        if word[0] == name[0] and OSA.distance(word, name, score_cutoff=slips) <= slips:
            return _WORDS[name]
    return None

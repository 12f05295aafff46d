"""An amount where it stands in a line, before it is put into words of our own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from reformulate.measures.words import METRIC, Kind
from reformulate.recipes.reading.quantity import Quantity
from reformulate.recipes.reading.scan import Token
from reformulate.recipes.reading.unit_words import LENGTHS, UnitFound

WEIGHED: Final = frozenset({Kind.MASS, Kind.VOLUME})


@dataclass(slots=True)
class Found:
    """An amount that stands in a line."""

    quantity: Quantity | None
    """None in "pinch of salt", where one is meant."""
    unit: UnitFound | None
    first: int
    """Index of its first token."""
    last: int
    """Index after its last token."""
    qualifiers: tuple[str, ...] = ()
    size: Found | None = None
    """Of one piece or pack."""
    other: Found | None = None
    """The same amount in other measures."""
    upper: Found | None = None
    """The end of a range whose ends have different units: 1 tsp to 1 tbsp."""
    more: Found | None = None
    """What is added: 1 tbsp plus 1 tsp."""
    less: Found | None = None
    """What is taken off: 1 cup minus 1 tbsp."""
    in_packs: bool = False
    """Whether "2 - 8 oz pkgs" was taken for packs of that size, and not for a range."""
    aside: tuple[int, int] | None = None
    """First token, and the one after the last, of what stands between number and unit: (#10) can."""
    each: bool = False
    """Whether it is said to hold for each piece, or each food."""

    @property
    def kind(self) -> Kind | None:
        """What the unit measures; None where there is none that is known."""
        return self.unit.kind if self.unit else None

    @property
    def is_weighed(self) -> bool:
        """Whether it is a mass or a volume."""
        return self.kind in WEIGHED

    @property
    def is_metric(self) -> bool:
        """Whether its unit is one of the metric system."""
        return self.unit is not None and self.unit.unit in METRIC

    @property
    def is_pack(self) -> bool:
        """Whether it counts packs whose size may be given."""
        return self.unit is not None and self.unit.has_a_size

    @property
    def is_counted(self) -> bool:
        """Whether it counts pieces, with or without a word for them."""
        return self.unit is None or self.kind is Kind.COUNT

    @property
    def middle(self) -> Fraction:
        """The number to reckon with; 1 where none is written."""
        return self.quantity.middle if self.quantity else Fraction(1)

    def is_length(self, tokens: Sequence[Token]) -> bool:
        """Whether it is the length of a piece."""
        return self.unit is not None and tokens[self.unit.first].low in LENGTHS

    def parts(self) -> Iterator[Found]:
        """Give this amount and all that stand in it."""
        yield self
        for part in (self.size, self.other, self.upper, self.more, self.less):
            if part is not None:
                yield from part.parts()

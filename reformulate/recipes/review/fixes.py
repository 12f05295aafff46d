"""What the fixes do: pure changes of a recipe, values themselves, so that they can be compared."""

from __future__ import annotations

from dataclasses import dataclass, replace

from reformulate.errors import BadInput
from reformulate.measures import Amount, Term, parse_amount
from reformulate.recipes.recipe import Line, Recipe
from reformulate.recipes.review.open_amounts import without_open_words


def _line_of(recipe: Recipe, line_id: str) -> Line | None:
    return next((line for line in recipe.lines if line.id == line_id), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAmount:
    """Write another amount in a line."""

    line: str
    amount: str
    text: str | None = None
    """The line as it then stands; None keeps it."""

    def __call__(self, recipe: Recipe) -> Recipe:
        """Return the recipe with the amount."""
        line = _line_of(recipe, self.line)
        if line is None:
            return recipe
        text = line.text if self.text is None else self.text
        return recipe.with_line(replace(line, amount=self.amount, grams=None, text=text))


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepAmount:
    """Let a line's amount stand in the place of the source's words."""

    line: str

    def __call__(self, recipe: Recipe) -> Recipe:
        """Return the recipe with the line no longer tied to its text."""
        line = _line_of(recipe, self.line)
        if line is None:
            return recipe
        return recipe.with_line(replace(line, text="", prep=without_open_words(line.prep)))


@dataclass(frozen=True, slots=True, kw_only=True)
class AddMore:
    """Count so much more of a line's food."""

    line: str
    more: str

    def __call__(self, recipe: Recipe) -> Recipe:
        """Return the recipe with the larger amount; the line is no longer tied to its text."""
        line = _line_of(recipe, self.line)
        total = None if line is None else added_amounts(line.written, self.more)
        if line is None or not total:
            return recipe
        prep = without_open_words(line.prep)
        return recipe.with_line(replace(line, amount=total, grams=None, text="", prep=prep))


@dataclass(frozen=True, slots=True, kw_only=True)
class SayDrained:
    """Write in a line's preparation that the food is drained."""

    line: str
    amount: str = ""
    """The amount that is drained, where it has to be written anew."""

    def __call__(self, recipe: Recipe) -> Recipe:
        """Return the recipe with the preparation."""
        line = _line_of(recipe, self.line)
        if line is None:
            return recipe
        prep = (
            line.prep if "drained" in line.prep else ", ".join(filter(None, ("drained", line.prep)))
        )
        if self.amount:
            line = replace(line, amount=self.amount, grams=None)
        return recipe.with_line(replace(line, prep=prep))


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeOff:
    """Take a line off the list."""

    line: str

    def __call__(self, recipe: Recipe) -> Recipe:
        """Return the recipe without the line; its only line stays."""
        left = tuple(line for line in recipe.lines if line.id != self.line)
        return replace(recipe, lines=left) if left else recipe


@dataclass(frozen=True, slots=True, kw_only=True)
class Add:
    """Add a line at the end of the list."""

    line: Line

    def __call__(self, recipe: Recipe) -> Recipe:
        """Return the recipe with the line, once."""
        if _line_of(recipe, self.line.id) is not None:
            return recipe
        return replace(recipe, lines=(*recipe.lines, self.line))


@dataclass(frozen=True, slots=True, kw_only=True)
class Merge:
    """Put the amount of one line into another of the same food."""

    into: str
    other: str

    def __call__(self, recipe: Recipe) -> Recipe:
        """Return the recipe with one of the two lines; as it was where they cannot be added."""
        first, second = _line_of(recipe, self.into), _line_of(recipe, self.other)
        if first is None or second is None or first is second:
            return recipe
        total = added_amounts(first.written, second.written)
        if not total:
            return recipe
        merged = recipe.with_line(replace(first, amount=total, grams=None, text=""))
        return replace(merged, lines=tuple(one for one in merged.lines if one.id != self.other))


@dataclass(frozen=True, slots=True, kw_only=True)
class SetServings:
    """Write how many the batch serves."""

    servings: float
    """Servings in the batch [count]."""

    def __call__(self, recipe: Recipe) -> Recipe:
        """Return the recipe for so many."""
        return replace(recipe, servings=self.servings)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetMoisture:
    """Write what cooking drives off."""

    percent: float
    """Water lost, of the total ingredient mass [%]."""

    def __call__(self, recipe: Recipe) -> Recipe:
        """Return the recipe with the moisture loss."""
        return replace(recipe, moisture_loss_percent=self.percent)


@dataclass(frozen=True, slots=True, kw_only=True)
class DropClaims:
    """Leave out what the source prints of some nutrients."""

    nutrients: tuple[str, ...]

    def __call__(self, recipe: Recipe) -> Recipe:
        """Return the recipe without those figures."""
        kept = tuple(claim for claim in recipe.claims if claim[0] not in self.nutrients)
        return replace(recipe, claims=kept)


def added_amounts(one: str, other: str) -> str:
    """Return the sum of two amounts as written, terms of one unit in one; "" where it has none.

    >>> added_amounts("2 tbsp", "1 tbsp"), added_amounts("1 cup", "20 g")
    ('3 tbsp', '1 cup + 20 g')
    """
    terms: list[Term] = []
    try:
        for term in (*parse_amount(one).terms, *parse_amount(other).terms):
            for i, old in enumerate(terms):
                same = (old.unit, old.qualifier, old.size) == (term.unit, term.qualifier, term.size)
                if same:
                    terms[i] = replace(
                        old,
                        quantity=old.quantity + term.quantity,
                        decimal=old.decimal or term.decimal,
                    )
                    break
            else:
                terms.append(term)
        total = str(Amount(tuple(terms)))
        parse_amount(total)
    except BadInput:
        return ""
    return total

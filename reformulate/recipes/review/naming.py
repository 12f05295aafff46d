"""Which lines the steps use, and what they name that no line has; worked out once a review."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from reformulate.recipes.reading.word_sets import word_set
from reformulate.recipes.review.collective import groups_of, lines_meant
from reformulate.recipes.review.context import Context, LineSeen
from reformulate.recipes.review.mentions import Mention, Sentence, mentions_in, sentences_of
from reformulate.recipes.review.phrases import (
    PEPPER,
    PEPPERS,
    Phrase,
    is_name,
    names_of_line,
    phrase_of,
    tells,
    vocabulary_of,
)

_ALWAYS_THERE: Final = frozenset({"water", "ice", "soda-water"})
_NOT_ADDED: Final = frozenset({"Bread, crackers and chips"})
"""Groups that go beside a dip."""
Names = Sequence[tuple[Phrase, ...]]
"""What each line of the recipe may be called."""

_KINDS_OF: Final = frozenset(
    {
        "extract",
        "juice",
        "zest",
        "heart",
        "powder",
        "flake",
        "seed",
        "puree",
        "syrup",
        "leaf",
        "root",
    }
)
"""Foods named so go by what they are made of: vanilla extract is the vanilla."""
_PARTS: Final = frozenset({"yolk", "white", "juice", "zest", "peel", "rind", "green"})
"""What a food has in it, that steps name by itself."""
_AMBIGUOUS: Final = word_set(
    """
    toast preserve stout port wrap chip mince baking dessert spirit scotch ice chuck date dripping meat
    savory mace water rye swiss ranch sprout pate cracker bread dressing jelly crumb roll pearl drink
    ale gin
    """
)
"""Single words that steps use for other things than an ingredient."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Naming:
    """What the steps name."""

    sentences: tuple[Sentence, ...]
    mentions: tuple[Mention, ...]
    used: frozenset[int]
    """Numbers of the lines that the steps use."""
    unlisted: tuple[Mention, ...]
    """What no line has, once each, in order."""


def naming_of(context: Context) -> Naming:
    """Find the foods that the steps name, and compare them with the list."""
    recipe = context.recipe
    sentences = sentences_of(recipe.steps)
    names = [names_of_line(seen.food, seen.source) for seen in context.lines]
    known = dict(vocabulary_of(context.foods).foods)
    for seen, of_line in zip(context.lines, names, strict=True):
        for name in of_line:
            if tells(name):
                known[name] = known.get(name, frozenset()) | {seen.food.key}
    single = frozenset(
        word for of_line in names for name in of_line for word in name if is_name(word)
    )
    longest = max(map(len, known), default=1)
    mentions = tuple(mentions_in(sentences, known, single, longest))
    first = min((one.sentence for one in mentions), default=len(sentences))
    used = set(lines_meant(sentences, context.lines, first))
    for mention in mentions:
        if not sentences[mention.sentence].advice:
            used.update(lines_named(mention, context.lines, names))
    return Naming(
        sentences=sentences,
        mentions=mentions,
        used=frozenset(used),
        unlisted=tuple(_unlisted(mentions, context, names)),
    )


def lines_named(mention: Mention, lines: Sequence[LineSeen], names: Names) -> frozenset[int]:
    """Return the numbers of the lines that a mention may mean, the likeliest only."""
    groups = groups_of(mention.words)
    named = {seen.number for seen in lines if seen.food.key in mention.keys}
    named |= {seen.number for seen in lines if seen.food.group in groups}
    if mention.words == PEPPER and not mention.with_salt:
        # "Toss the corn, pepper and onion" means the vegetable.
        named |= {seen.number for seen in lines if PEPPERS in names[seen.number][0]}
    named = named or {
        seen.number for seen in lines if words_of_line(seen, names).issuperset(mention.words)
    }
    return frozenset(named or _wholes(mention, lines, names))


def words_of_line(seen: LineSeen, names: Names) -> frozenset[str]:
    """Return every word of every name of a line."""
    return frozenset(word for name in names[seen.number] for word in name)


def _wholes(mention: Mention, lines: Sequence[LineSeen], names: Names) -> set[int]:
    """Return the lines of which a mention names a part: the yolks of eggs, the zest of lemons."""
    whole = mention.words[:-1]
    if not whole or mention.words[-1] not in _PARTS:
        return set()
    return {
        seen.number
        for seen in lines
        if words_of_line(seen, names).issuperset(whole)
        and not _PARTS.intersection(seen.food.name.lower().replace(",", " ").split())
    }


def _is_listed(mention: Mention, lines: Sequence[LineSeen], names: Names) -> bool:
    """Whether a line is what a mention names, and not only made of it, as oil is of olives."""
    for number in lines_named(mention, lines, names):
        seen = lines[number]
        if seen.food.key in mention.keys or seen.food.group in groups_of(mention.words):
            return True
        if mention.words == PEPPER:
            if PEPPERS in names[number][0]:
                return True
            continue
        ends = {name[-1] for name in names[number]}
        if ends & ({mention.words[-1]} | _KINDS_OF) or mention.words[-1] in _PARTS:
            return True
    return False


def _unlisted(mentions: Sequence[Mention], context: Context, names: Names) -> list[Mention]:
    beside = frozenset(word for text in context.recipe.serve_with for word in phrase_of(text))
    found: dict[Phrase, Mention] = {}
    for mention in mentions:
        if mention.aside or not mention.keys or mention.words in found:
            continue
        if _is_listed(mention, context.lines, names) or beside.issuperset(mention.words):
            continue
        if _is_added(mention, context):
            found[mention.words] = mention
    return list(found.values())


def _is_added(mention: Mention, context: Context) -> bool:
    if mention.keys & _ALWAYS_THERE:
        return False
    if len(mention.words) == 1 and mention.words[0] in _AMBIGUOUS:
        return False
    groups = {context.foods.food(key).group for key in mention.keys}
    if groups <= _NOT_ADDED:
        return False
    # The dish itself: "spoon the hummus into a bowl" in a hummus.
    is_dish = mention.words[-1] in ("hummus", "salsa", "pesto", "dip", "sauce", "dressing", "queso")
    return not (is_dish and context.title_words.issuperset(mention.words))

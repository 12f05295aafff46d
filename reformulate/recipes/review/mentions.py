"""Foods that the steps name, and where a name adds nothing to the dish."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from reformulate.recipes.review.phrases import BREAKS, Phrase, plain_words

MOST_STEPS: Final = 200
"""Steps that are read [count]."""
_MOST_LETTERS: Final = 40_000
"""How much of all steps is read [characters]."""
_WORDS_AT_ONCE: Final = 30

_SENTENCES: Final = re.compile(r"(?<=[.!?])\s+|\n+")
_FRAGMENTS: Final = re.compile(r"[,.;:!?()\[\]—–/]+")

_NO_COOKING: Final = re.compile(
    r"food-safety|food safety|allergen|allergic|\btell (?:your )?guests|\bdo not keep\b|\bdiscard what",
    re.IGNORECASE,
)
"""Sentences of advice: what they name is not put into the dish by them."""

_TO_THE_END: Final = r"[^.;!?]*"
_TO_THE_COMMA: Final = r"[^,.;!?]{0,80}"
_ASIDE: Final = re.compile(
    rf"\b(?:serv(?:e|es|ed|ing)|eat|enjoy|offer|goes well|delicious|good|great|lovely|perfect)\b"
    rf"[^.;!?]{{0,60}}?\b(?:with|on|alongside|beside|over|in|as|for|to){_TO_THE_END}"
    rf"|\b(?:makes|yields) (?:about |enough ){_TO_THE_END}"
    rf"|\b(?:for|to) dip(?:ping)?\b{_TO_THE_END}|\bdippers?\b{_TO_THE_END}"
    rf"|\b(?:consistency|texture|thickness|colou?r|size|shape|flavou?r|smell|look|taste)s? (?:of|like)\b"
    rf"{_TO_THE_COMMA}|\b(?:like|as \w+ as|resembl\w+){_TO_THE_COMMA}"
    rf"|\b(?:instead of|in place of|rather than|such as|for example|if you (?:like|prefer|want|have)"
    rf"|if (?:using|liked|desired|wanted)|optional(?:ly)?|substitut\w+|swap\w*|variation|leftovers?)\b"
    rf"{_TO_THE_END}"
    rf"|\b(?:or|without|no|omit|skip|leave out|avoid|do not add|don't add)\b{_TO_THE_COMMA}"
    r"|\b(?:butter|oil|grease|flour|line)\s+(?:the |an? |your |\d+ |\w+ ){0,4}?"
    r"(?:dish|pan|tin|tray|sheet|skillet|mould|mold|ramekin|bowl|casserole|foil|paper)\w*"
    r"|\b\w+[ -](?:press|squeezer|reamer|juicer|ricer|masher|mill|grinder|shaker|timer|beater|cloth|grater"
    r"|dish|knife|spinner|bowl|chopper|thermometer|tin|pan|pot|tray|board|bath|cubes?|cooker|maker)\b",
    re.IGNORECASE,
)
"""Where a food is named, but not added: what goes beside it, likeness, choice, tools."""

_SEASONS: Final = re.compile(
    r"\bsalt\b|\bseason|\bto taste\b|\b(?:ground|grind|grinding) ", re.IGNORECASE
)
_VERBS: Final = re.compile(
    r"(?:^|[,.;:(]\s*|\b(?:and|then|lightly|generously|or|to|gently)\s+)"
    r"(?P<verb>cream|juice|zest|toast|water|sugar|honey|ice|ham|season|top|butter|oil|flour)\s+"
    r"(?=(?:the|an?|your|it|them|each|well|together|both|generously|lightly|until)\b)",
    re.IGNORECASE,
)
"""What is done, not added: cream the butter, juice the lemons."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mention:
    """A food that a step names."""

    step: int
    """Number of the step [count], from 1."""
    words: Phrase
    keys: frozenset[str]
    """Foods that the table knows by these words; none for a single word of a line's name."""
    sentence: int
    """Running number of the sentence [count]."""
    with_salt: bool
    """Whether the sentence seasons: its pepper is the spice."""
    aside: bool
    """Whether the words stand where a food is named without being added."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sentence:
    """One sentence of a step."""

    step: int
    """Number of the step [count], from 1."""
    text: str
    advice: bool
    """Whether it only advises."""


def sentences_of(steps: Iterable[str]) -> tuple[Sentence, ...]:
    """Return the sentences of the steps, of as much as is read."""
    found: list[Sentence] = []
    left = _MOST_LETTERS
    for number, step in enumerate(itertools.islice(steps, MOST_STEPS), start=1):
        text, left = step[:left], max(0, left - len(step))
        parts = _SENTENCES.split(" ".join(text.split()))
        found.extend(_sentence(number, part) for part in parts if part.strip())
    return tuple(found)


def _sentence(step: int, text: str) -> Sentence:
    return Sentence(step=step, text=text, advice=_NO_COOKING.search(text) is not None)


def mentions_in(
    sentences: Iterable[Sentence],
    known: Mapping[Phrase, frozenset[str]],
    single: frozenset[str],
    longest: int,
) -> Iterator[Mention]:
    """Yield the foods that sentences name, the longest name first at each place.

    Parameters
    ----------
    sentences : iterable of Sentence
        What is read.
    known : mapping
        Keys of foods by what they are called.
    single : frozenset of str
        Words that by themselves name one of the recipe's lines.
    longest : int
        Words of the longest name in ``known`` [count].
    """
    for number, sentence in enumerate(sentences):
        adding = _without_asides(sentence.text)
        added = list(_names(adding, known, single, longest))
        # What is named aside is used all the same: "season, or leave out the salt".
        every = list(_names(sentence.text, known, single, longest))
        seasons = _SEASONS.search(sentence.text) is not None
        for words, keys in (*added, *(one for one in every if one not in added)):
            yield Mention(
                step=sentence.step,
                words=words,
                keys=keys,
                sentence=number,
                with_salt=seasons,
                aside=sentence.advice or (words, keys) not in added,
            )


def _without_asides(text: str) -> str:
    return _VERBS.sub(lambda found: found[0].replace(found["verb"], "."), _ASIDE.sub(" . ", text))


def fragments_of(text: str) -> Iterator[list[str]]:
    """Yield the plain words of a text between its marks."""
    for fragment in _FRAGMENTS.split(text):
        raw = fragment.split()
        for start in range(0, len(raw), _WORDS_AT_ONCE):
            words = plain_words(" ".join(raw[start : start + _WORDS_AT_ONCE]))
            if words:
                yield words


def _names(
    text: str, known: Mapping[Phrase, frozenset[str]], single: frozenset[str], longest: int
) -> Iterator[tuple[Phrase, frozenset[str]]]:
    for words in fragments_of(text):
        at = 0
        while at < len(words):
            length = _longest_at(words, at, known, longest)
            if length:
                phrase = tuple(words[at : at + length])
                yield phrase, known[phrase]
                at += length
                continue
            if words[at] in single:
                yield (words[at],), frozenset()
            at += 1


def _longest_at(
    words: list[str], at: int, known: Mapping[Phrase, frozenset[str]], longest: int
) -> int:
    for length in range(min(longest, len(words) - at), 0, -1):
        phrase = tuple(words[at : at + length])
        if phrase in known and not BREAKS.intersection(phrase):
            return length
    return 0

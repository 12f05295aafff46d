"""What one line of a pasted text is: an ingredient, a step, a title, something else."""

from __future__ import annotations

import re
from typing import Final

from reformulate.recipes.reading.chatter import is_chatter
from reformulate.recipes.reading.food_names import is_a_food
from reformulate.recipes.reading.headings import names_a_group
from reformulate.recipes.reading.line import read_line
from reformulate.recipes.reading.nutrition import prints_nutrients
from reformulate.recipes.reading.scan import LONGEST
from reformulate.recipes.reading.values import ReadLine
from reformulate.recipes.reading.word_sets import word_set

_ASIDE: Final = re.compile(
    r"(?:from|to|cc|bcc|sent|date|reply-to|source|author|by|category|categories|course|cuisine|tags?"
    r"|keywords|difficulty|level|rating|posted|submitted|printed|copyright|photo|adapted)\b ?:"
    r"|(?:prep(?:aration)?|cook(?:ing)?|total|active|hands-on|ready|chill(?:ing)?|bake|baking|rest(?:ing)?"
    r"|marinat\w+|cool(?:ing)?|oven)(?: (?:time|in|temp\w*))? ?[:=-]"
    r"|(?:prep|cook|total|active|chill) time\b|time ?:|calories?\b|kcal\b|per serving\b"
    r"|nutrition\b|https?:|www\.|on .{4,60} wrote:|-{2,} ?original|begin forwarded|sent from my"
    r"|(?:hi|hello|hey|dear)\b[^.]{0,40}[,!:]?$|page [0-9]+",
    re.IGNORECASE,
)
_RULE: Final = re.compile(r"[\W_]*$")
_NUMBERED: Final = re.compile(
    r"(?:step ?)?\(?[0-9]{1,2}[.):] *(?=[^\W\d_])|step [0-9]{1,2}\b ?[-–:]? *", re.IGNORECASE
)
_BULLET: Final = re.compile(r"(?:[-–—*•·▪▫◦‣⁃●○■□☐☑✓✔➢➤►♦+]+|\[[ xX]?\]) *")
_VERBS: Final = word_set("""
    add adjust allow arrange assemble bake baste beat blend blitz boil bring broil brown brush
    chill chop coat combine cook cool core cover cream crumble crush cut dice dip discard divide
    drain drizzle drop dust fill finish fold form freeze fry garnish grate grease grill grind heat
    keep knead layer leave let line lower make mash measure melt microwave mince mix moisten pat
    peel pierce place plate pour preheat prepare press process pulse puree purée put reduce
    refrigerate remove repeat reserve rinse roast roll rub sauté saute scatter scoop scrape sear
    season separate serve set shake shape shred sift simmer skim slice soak soften split spoon
    spray spread sprinkle squeeze stack steam steep stir store strain taste tear thaw thin tip
    toast top toss transfer trim turn use warm wash whip whisk whizz whirl wipe work wrap pull
    push lay rest check continue cube shell stuff smear
""")
_OPENERS: Final = word_set(
    "in once when while meanwhile using after then next finally first if to at on with for before until "
    "gently slowly carefully gradually lightly continue"
)
_AFTER_VERB: Final = word_set("""
    the a an with together until in on all both over and it them your well for to into up out from
    off remaining any each half mixture everything ingredients aside down at again through evenly
    this that some chilled warm cold hot immediately as about large one two
""")
_WORD: Final = re.compile(r"[^\W\d_]+(?:['’-][^\W\d_]+)*")
_STARTS_WITH_FIGURE: Final = re.compile(r"[\W_]*[0-9½¼¾⅐-⅞]")
_MOST_INGREDIENT_WORDS: Final = 30
_MOST_WORDS_BEFORE_POINT: Final = 12
_MOST_WORDS_OF_A_NAME: Final = 8


_MOST_TITLE_WORDS: Final = 10
_MOST_WORDS_IN_SMALL_LETTERS: Final = 4
_MARKED: Final = " #*_=~"


def is_group(line: str, following: str, *, starts_block: bool) -> bool:
    """Whether the line names a group, and an amount stands on the next line.

    Parameters
    ----------
    line, following : str
        The line and the next.
    starts_block : bool
        Whether an empty line stands before it; within a block "Hot sauce" is an ingredient.
    """
    apart = starts_block or line.isupper()
    named = (apart and names_a_group(line)) or read_line(line).heading
    return named and is_ingredient(following, read_line(following))


def is_rule(line: str) -> bool:
    """Whether the line holds no letters or figures."""
    return bool(_RULE.match(line))


def is_aside(line: str) -> bool:
    """Whether the line tells of times, nutrients, senders: nothing that a recipe here keeps."""
    bare = line.lstrip(_MARKED)
    told = bool(_ASIDE.match(bare)) or prints_nutrients(bare)
    return told or is_chatter(bare) or is_chatter(line)


def numbered(line: str) -> bool:
    """Whether the line starts as a numbered step does: "1. Mix", "Step 2:"."""
    return bool(_NUMBERED.match(line))


def bulleted(line: str) -> bool:
    """Whether the line starts with a bullet or a box to tick."""
    return bool(_BULLET.match(line))


def without_mark(line: str) -> str:
    """Return a step without its number or bullet."""
    for mark in (_BULLET, _NUMBERED):
        found = mark.match(line)
        line = line[found.end() :] if found and found.end() < len(line) else line
    return line.strip()


def is_instruction(line: str) -> bool:
    """Whether the line tells what to do.

    Examples
    --------
    >>> is_instruction("Cream the butter."), is_instruction("Cream cheese, softened")
    (True, False)
    """
    words = _words(line)
    if len(words) < 2:
        return False
    sentence = _is_sentence(line, words)
    if words[0] in _VERBS:
        return words[1] in _AFTER_VERB or (len(words) >= 5 and sentence)
    if words[0] in _OPENERS:
        return len(words) >= 4 and sentence
    if words[0].endswith("ly") or numbered(line):
        return sentence and any(word in _VERBS for word in words[1:4])
    return len(words) >= 9 and sentence and any(word in _VERBS for word in words)


def starts_with_verb(line: str) -> bool:
    """Whether the first word tells what to do."""
    return _words(line)[:1] != [] and _words(line)[0] in _VERBS


def is_ingredient(line: str, read: ReadLine) -> bool:
    """Whether the line states an amount of a food and is no sentence."""
    words = _words(line)
    if not read.food_text or read.heading or len(words) > _MOST_INGREDIENT_WORDS:
        return False
    if not (read.quantity_text or read.unit_text or read.to_taste or read.juice_of):
        return False
    starts_with_amount = bool(read.quantity_text) and _STARTS_WITH_FIGURE.match(line) is not None
    if starts_with_amount and not numbered(line):
        return not (line.rstrip().endswith(".") and len(words) > _MOST_WORDS_BEFORE_POINT)
    return not is_instruction(line)


def _words(line: str) -> list[str]:
    return [word.lower() for word in _WORD.findall(without_mark(line)[:LONGEST])]


def _is_sentence(line: str, words: list[str]) -> bool:
    return line.rstrip(" )\"'").endswith((".", "!")) or len(words) > _MOST_WORDS_OF_A_NAME


def may_be_a_title(text: str) -> bool:
    """Whether a line is short and no sentence."""
    bare = text.strip(_MARKED)
    if (
        not bare
        or len(bare.split()) > _MOST_TITLE_WORDS
        or bare.endswith((".", ",", ";", ":", "?"))
    ):
        return False
    few = len(bare.split()) <= _MOST_WORDS_IN_SMALL_LETTERS
    return bare[0].isupper() or bare[0].isdigit() or text.startswith("#") or few


def may_be_a_food(text: str) -> bool:
    """Whether a line may be an ingredient without an amount."""
    return len(text.split()) <= _MOST_WORDS_OF_A_NAME and not text.endswith((".", "!", "?", ":"))


def names_a_food(text: str) -> bool:
    """Whether a short line names a common food."""
    words = read_line(text).food_text.lower().split()
    known = any(is_a_food(word) for word in words)
    return known and may_be_a_food(text)

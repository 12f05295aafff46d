"""Words that leave an amount, or a part of it, to the cook."""

from __future__ import annotations

import re
from typing import Final

from reformulate.recipes.review.context import LineSeen

_MORE: Final = re.compile(
    r"\b(?:plus|and|with)\s+(?:a\s+(?:little|bit|touch)\s+|some\s+)?(?:more|extra)\b"
    r"(?![ -]?(?:virgin|light|lean|large|firm|sharp|mature|fine|dry))"
    r"|\b(?:more|extra)\b[^,;.]{0,20}\b(?:if|as)\s+(?:needed|required|necessary|desired|you like)\b"
    r"|\b(?:more|extra)\s+(?:to\s+(?:taste|serve|drizzle|finish|fry|coat)|for\s+\w+ing)\b",
    re.IGNORECASE,
)
_TO_THE_COOK: Final = re.compile(
    r"\bto\s+(?:your\s+)?(?:taste|liking)\b|\b(?:as|if)\s+(?:needed|required|necessary|desired)\b",
    re.IGNORECASE,
)
_MORE_OF: Final = re.compile(
    r"\b(?:more|extra|additional)\s+(?!virgin|light)(?:[^\W\d_]+\s+){0,2}?(?P<food>oil|butter|salt)\b"
    r"|\b(?P<other>oil|butter|salt)\b[^,.;]{0,15}\b(?:as|if)\s+(?:needed|required|necessary)\b",
    re.IGNORECASE,
)


def leaves_more(seen: LineSeen) -> bool:
    """Whether the line uses more than its amount says: "plus more if needed"."""
    return bool(seen.source and seen.source.and_extra) or _MORE.search(seen.said) is not None


def leaves_all(seen: LineSeen) -> bool:
    """Whether the line leaves its amount to the cook: "to taste"."""
    return bool(seen.source and seen.source.to_taste) or _TO_THE_COOK.search(seen.said) is not None


def more_in(sentence: str) -> str:
    """Return of which of oil, butter and salt a sentence uses more than is listed; "" for none."""
    found = _MORE_OF.search(sentence)
    return (found["food"] or found["other"]).lower() if found else ""


def without_open_words(prep: str) -> str:
    """Return a preparation without the words that leave an amount open.

    >>> without_open_words("melted, plus more if needed"), without_open_words("to taste")
    ('melted', '')
    """
    parts = [part.strip() for part in re.split(r"[,;]", prep)]
    kept = [
        part for part in parts if part and not _MORE.search(part) and not _TO_THE_COOK.search(part)
    ]
    return prep if len(kept) == len(parts) else ", ".join(kept)

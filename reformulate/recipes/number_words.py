"""Numbers that recipes write as words."""

from __future__ import annotations

from typing import Final

_UP_TO_TWENTY: Final = (
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen twenty"
)
NUMBERS: Final = {
    **{word: count for count, word in enumerate(_UP_TO_TWENTY.split(), start=1)},
    "thirty": 30,
    "forty": 40,
    "fifty": 50,
}
"""What each word counts [count]."""

"""A JSON file of any length, one food at a time."""

from __future__ import annotations

import codecs
import json
import re
from collections.abc import Iterator
from itertools import count
from typing import Any, Final

from reformulate.errors import BadInput, Problem
from reformulate.foods.store.tally import AGAIN
from reformulate.foods.store.text import Reading

LONGEST_FOOD: Final = 4 * 2**20
"""Characters; the longest food of a release has some 300 000."""
_MOST_NAMES = 1000  # beside the lists of foods; a release has one list and nothing beside it
_BLANKS = re.compile(r"[ \t\r\n]*")


class JsonFoods:
    """The foods in a file: one food, a list of foods, or an object with lists of foods."""

    def __init__(self, reading: Reading) -> None:
        self._blocks = self._texts(reading)
        self._where = reading.part.where
        self._text = ""
        self._at = 0
        self._before = 0
        self._ended = False
        self._decode = json.JSONDecoder().raw_decode
        self.picked = False
        """Whether the file is picked foods rather than a whole collection."""

    def foods(self) -> Iterator[tuple[int, Any]]:
        """Give each element of the lists, with the character at which it starts [count].

        Raises
        ------
        BadInput
            The text is no JSON, is broken off, is nested too deeply, has a food too long to be
            one, or holds no list; with the place.
        """
        alone = self._alone()
        if alone is not None:
            self.picked = True
            yield 0, alone
            return
        opening = self._peek()
        if opening == "[":
            self.picked = True
            yield from self._list()
        elif opening == "{":
            yield from self._lists()
        else:
            raise self._trouble("The text is no JSON object or list.")
        if self._peek():
            raise self._trouble("There is more text after the end.")

    def _lists(self) -> Iterator[tuple[int, Any]]:
        found = False
        self._at += 1
        if self._peek() == "}":
            self._at += 1
        else:
            for names in count(1):
                if self._peek() != '"':
                    raise self._trouble("A name in quotes is expected.")
                if names > _MOST_NAMES:
                    raise self._trouble(f"There are more than {_MOST_NAMES} names side by side.")
                self._value()
                self._expect(":")
                if self._peek() == "[":
                    found = True
                    yield from self._list()
                else:
                    self._value()
                if self._expect(",}") == "}":
                    break
        if not found:
            raise self._trouble("There is no list of foods.")

    def _list(self) -> Iterator[tuple[int, Any]]:
        self._at += 1
        if self._peek() == "]":
            self._at += 1
            return
        while True:
            self._peek()
            start = self._before + self._at
            yield start, self._value()
            if self._expect(",]") == "]":
                return

    def _alone(self) -> dict[str, Any] | None:
        """Return the whole, where it is one food."""
        while not self._ended and len(self._text) <= LONGEST_FOOD:
            self._more()
        if not self._ended:
            return None
        try:
            whole = json.loads(self._text)
        except (ValueError, RecursionError):
            return None  # what is wrong is found, with its place, by reading on
        return whole if isinstance(whole, dict) and "fdcId" in whole else None

    def _value(self) -> Any:
        """Decode the value that stands next."""
        self._peek()
        while True:
            try:
                value, end = self._decode(self._text, self._at)
            except json.JSONDecodeError as error:
                if self._ended or len(self._text) - self._at > LONGEST_FOOD:
                    raise self._broken(error) from error
            except RecursionError as error:
                raise self._trouble("The values are nested far too deeply.") from error
            except ValueError as error:
                raise self._trouble("A number has thousands of digits.") from error
            else:
                # At the end of what was read so far a number may go on.
                if end < len(self._text) or self._ended:
                    self._at = end
                    return value
                if end - self._at > LONGEST_FOOD:
                    raise self._trouble("A number has thousands of digits.")
            self._more(double=True)

    def _broken(self, error: json.JSONDecodeError) -> BadInput:
        rest = self._text[error.pos :].rstrip()
        # A word or an escape that is cut off is complained of where it starts.
        cut = "Unterminated" in error.msg or not rest or rest.isalnum()
        if self._ended and cut:
            return self._trouble("The file is broken off.", error.pos)
        if not self._ended and "Unterminated" in error.msg and len(rest) > LONGEST_FOOD // 2:
            what = f"A text is longer than {LONGEST_FOOD // 2**21} MB, as in no release."
            return self._trouble(what, error.pos)
        if not self._ended and cut:
            return self._trouble(
                f"A food is longer than {LONGEST_FOOD // 2**20} MB, as in no release."
            )
        return self._trouble(f"The text is not JSON ({error.msg}).", error.pos)

    def _expect(self, marks: str) -> str:
        mark = self._peek()
        if not mark:
            raise self._trouble("The file is broken off.")
        if mark not in marks:
            raise self._trouble(f"Found “{mark}”, expected {' or '.join(marks)}.")
        self._at += 1
        return mark

    def _peek(self) -> str:
        """Return the next character that is no blank; nothing at the end."""
        while True:
            if blank := _BLANKS.match(self._text, self._at):
                self._at = blank.end()
            if self._at < len(self._text):
                return self._text[self._at]
            if self._ended:
                return ""
            self._more()

    def _more(self, *, double: bool = False) -> None:
        """Read on; with ``double``, until there is twice as much, so that retries stay cheap."""
        self._before += self._at
        pieces = [self._text[self._at :]]
        self._at = 0
        wanted = len(pieces[0]) if double else 1
        while wanted > 0 and not self._ended:
            text = next(self._blocks, None)
            if text is None:
                self._ended = True
            else:
                pieces.append(text)
                wanted -= len(text)
        self._text = "".join(pieces)

    def _texts(self, reading: Reading) -> Iterator[str]:
        decoder = codecs.getincrementaldecoder("utf-8")()
        try:
            for block in reading.blocks():
                if text := decoder.decode(block):
                    yield text
            yield decoder.decode(b"", final=True)
        except UnicodeDecodeError as error:
            what = "Found bytes that are not UTF-8, which JSON must be."
            where = f"{reading.part.where}, about byte {reading.bytes:,}"
            raise BadInput(Problem(where=where, what=what, fix=AGAIN)) from error

    def _trouble(self, what: str, at: int | None = None) -> BadInput:
        place = self._before + (self._at if at is None else at)
        where = f"{self._where}, at character {place + 1:,}"
        return BadInput(Problem(where=where, what=what, fix=AGAIN))

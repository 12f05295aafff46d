"""Broken JSON as whole JSON, where there is only one way to read it."""

from __future__ import annotations

import re
from typing import Final

_OPENING = re.compile(r"(?:\s|<!--|//\s*<!\[CDATA\[|/\*\s*<!\[CDATA\[\s*\*/|<!\[CDATA\[)+")
_CLOSING = re.compile(r"(?:\s|;|-->|//\s*\]\]>|/\*\s*\]\]>\s*\*/|\]\]>|//)+\Z")
_WRAPPING: Final = 80
"""How far a wrapping may reach into a text from either end [count]."""
_QUOTED_AS_ENTITY = re.compile(r"\s*[\[{]\s*&(?:quot|#34|#x22);", re.IGNORECASE)
_BETWEEN = re.compile(r'[^"/,\[\]{}:]+')
_WITHIN = re.compile(r'[^"\\\x00-\x1f]+')
_ESCAPE = re.compile(r'\\(?:["\\/bfnrt]|u[0-9A-Fa-f]{4})')
_NOT_A_COMMA = re.compile(r"\s*+(?:,|[\]}]|\Z)")
_COMMENT = re.compile(r"//[^\n]*|/\*")
_ENDS_KEY = re.compile(r"\s*+:")
_COMMAS: Final = r"(?:,\s*+)++"
_KEY: Final = r'"(?:[^"\\\n]|\\.){0,100}+"\s*+:'
_ENDS_IN_TABLE = re.compile(rf"\s*+(?:\}}|\Z|/[/*]|{_COMMAS}(?:\}}|/[/*]|\Z|{_KEY}))")
_ENDS_IN_LIST = re.compile(
    rf'\s*+(?:\]|\Z|/[/*]|{_COMMAS}(?:["\[{{\]]|/[/*]|\Z|-?[0-9]|(?:true|false|null)\b))'
)
_CONTROLS = re.compile(r"[\x00-\x1f]+")
_MOST_DEEP: Final = 1000
_MOST_FAULTS: Final = 10_000
"""Most quotation marks, backslashes and comments mended in one text [count]."""


COMMENTS: Final = "comments"


class CannotMend(Exception):  # noqa: N818 - as it reads in a sentence
    """The text can be read in more than one way, or in none; the message says why."""


def unwrapped(text: str) -> tuple[str, set[str]]:
    """Return JSON without a byte order mark, comment or CDATA marks around it, and what was done."""
    bare = text.strip("\ufeff \t\n\r")
    done = {"a byte order mark before it"} if "\ufeff" in text[:_WRAPPING] else set()
    opening = _OPENING.match(bare[:_WRAPPING])
    inner = bare[opening.end() :] if opening else bare
    closing = _CLOSING.search(inner[-_WRAPPING:])
    if closing:
        inner = inner[: len(inner) - len(closing[0])]
    if opening or closing:
        done.add("what was wrapped around it")
    return inner, done


def has_quotes_as_entities(text: str) -> bool:
    """Return whether the quotation marks of JSON were escaped for HTML."""
    return bool(_QUOTED_AS_ENTITY.match(text))


def mended(text: str) -> tuple[str, set[str]]:
    """Return text as JSON, and in words what was wrong with it.

    Mended are control characters, quotation marks and backslashes in texts that should have been
    escaped, comments, and commas too many. Where a text could end at more than one quotation mark
    nothing is guessed.

    Raises
    ------
    CannotMend
        If a text has no end, or more than one possible end.
    """
    whole, done = _Mender(text).run()
    # A comma too many may have stood before a comment.
    return _with(done, _Mender(whole).run()) if COMMENTS in done else (whole, done)


def _with(done: set[str], again: tuple[str, set[str]]) -> tuple[str, set[str]]:
    return again[0], done | again[1]


class _Mender:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.out: list[str] = []
        self.done: set[str] = set()
        self.inside: list[str] = []
        self.key_next = False
        self.faults = 0

    def run(self) -> tuple[str, set[str]]:
        while self.at < len(self.text):
            if plain := _BETWEEN.match(self.text, self.at):
                self._take(plain[0])
                continue
            mark = self.text[self.at]
            if mark == '"':
                self._string()
            elif mark == "/" and self._comment():
                pass
            elif mark == "," and self._is_too_many():
                self.at += 1
                self._say("commas too many")
            else:
                self._structure(mark)
        return "".join(self.out), self.done

    def _say(self, what: str) -> None:
        self.done.add(what)
        self.faults += 1
        if self.faults > _MOST_FAULTS:
            raise CannotMend(f"it has more than {_MOST_FAULTS:_} faults".replace("_", " "))

    def _take(self, piece: str) -> None:
        self.out.append(piece)
        self.at += len(piece)

    def _structure(self, mark: str) -> None:
        if mark in "[{":
            self.inside.append(mark)
            if len(self.inside) > _MOST_DEEP:
                raise CannotMend("its lists and tables are nested too deep")
        elif mark in "]}" and self.inside:
            self.inside.pop()
        if mark in "{,":
            self.key_next = bool(self.inside) and self.inside[-1] == "{"
        elif mark in "[:":
            self.key_next = False
        self._take(mark)

    def _comment(self) -> bool:
        found = _COMMENT.match(self.text, self.at)
        if not found:
            return False
        end = found.end()
        if found[0] == "/*":
            end = self.text.find("*/", end) + 2
            if end < 2:
                raise CannotMend("a comment in it has no end")
        self.at = end
        self.out.append(" ")
        self._say(COMMENTS)
        return True

    def _is_too_many(self) -> bool:
        return bool(self.inside) and bool(_NOT_A_COMMA.match(self.text, self.at + 1))

    def _string(self) -> None:
        self._take('"')
        opened = 0
        found_any = False
        while self.at < len(self.text):
            if plain := _WITHIN.match(self.text, self.at):
                self._take(plain[0])
                continue
            mark = self.text[self.at]
            if mark == "\\":
                self._escape()
            elif controls := _CONTROLS.match(self.text, self.at):
                self.out.extend(f"\\u{ord(control):04x}" for control in controls[0])
                self.at = controls.end()
                self.done.add("line breaks or control characters within texts")
            elif self._may_end():
                if opened:
                    raise CannotMend("a quotation mark within a text could also be its end")
                self._take('"')
                return
            else:
                if self.key_next or _ENDS_KEY.match(self.text, self.at + 1):
                    raise CannotMend("a comma or a quotation mark is missing")
                opened = self._count(opened)
                self.out.append('\\"')
                self.at += 1
                found_any = True
                self._say("quotation marks within texts")
        raise CannotMend(
            "a text in it has no certain end" if found_any else "it ends in the middle of a text"
        )

    def _count(self, opened: int) -> int:
        """Return how many quotations within the text are open after the mark at hand."""
        before = self.text[self.at - 1]
        after = self.text[self.at + 1 : self.at + 2]
        if before.isdigit() and not opened:
            return 0  # inches
        if (before.isspace() or before in "([=") and after and not after.isspace():
            return opened + 1
        if before == '"' and after.isalnum():
            return opened + 1
        if not opened:
            raise CannotMend("a quotation mark within a text closes what was never opened")
        return opened - 1

    def _escape(self) -> None:
        if whole := _ESCAPE.match(self.text, self.at):
            self._take(whole[0])
            return
        self._say("backslashes within texts")
        if self.text.startswith("\\'", self.at):
            self.at += 1
            return
        self.out.append("\\\\")
        self.at += 1

    def _may_end(self) -> bool:
        if self.key_next:
            return bool(_ENDS_KEY.match(self.text, self.at + 1))
        if not self.inside:
            return True
        ends = _ENDS_IN_TABLE if self.inside[-1] == "{" else _ENDS_IN_LIST
        return bool(ends.match(self.text, self.at + 1))

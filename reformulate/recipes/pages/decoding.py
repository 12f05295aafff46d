"""From a page's bytes to its text, whatever it says its encoding is."""

from __future__ import annotations

import re
from typing import Final

from reformulate.errors import FileProblem, Problem
from reformulate.recipes.pages.notes import Notes

_MARKS: Final = (
    (b"\xef\xbb\xbf", "utf-8"),
    (b"\xff\xfe\x00\x00", "utf-32-le"),
    (b"\x00\x00\xfe\xff", "utf-32-be"),
    (b"\xff\xfe", "utf-16-le"),
    (b"\xfe\xff", "utf-16-be"),
)

_SINGLE: Final = {
    # HTML's standard reads Latin-1 and ASCII as Windows-1252.
    **dict.fromkeys(("ascii", "us-ascii", "latin1", "iso-8859-1", "iso8859-1"), "cp1252"),
    **{f"windows-125{n}": f"cp125{n}" for n in range(9)},
    **{f"cp125{n}": f"cp125{n}" for n in range(9)},
    **{f"iso-8859-{n}": f"iso8859-{n}" for n in (2, 3, 4, 5, 6, 7, 8, 10, 13, 14, 15, 16)},
    "iso-8859-9": "cp1254",
    "koi8-r": "koi8-r",
    "koi8-u": "koi8-u",
    "macintosh": "mac-roman",
}
_DOUBLE: Final = {
    **dict.fromkeys(("shift_jis", "shift-jis", "sjis", "windows-31j"), "cp932"),
    "euc-jp": "euc-jp",
    **dict.fromkeys(("gb2312", "gbk", "gb18030"), "gb18030"),
    "big5": "big5hkscs",
    **dict.fromkeys(("euc-kr", "ks_c_5601-1987"), "cp949"),
}
"""Only these are believed: a codec of Python's own, such as ``unicode_escape``, is no encoding."""

_NAMED = re.compile(
    rb"<(?:meta|\?xml)[^>]{1,300}?(?:charset|encoding)\s{0,9}=\s{0,9}[\"']?\s{0,9}"
    rb"([A-Za-z0-9_.:-]{1,40})",
    re.IGNORECASE,
)
_HEAD: Final = 8192
"""How far into a page its encoding is looked for [byte]; the standard asks for the first 1024."""

_CONTROLS: Final = tuple(chr(n) for n in range(32) if chr(n) not in "\t\n\v\f\r\x1b")
_NOT_PAGES: Final = (
    (b"%PDF", "is a PDF, not a web page."),
    (b"PK\x03\x04", "is a zip archive or an office document, not a web page."),
    (b"\x1f\x8b", "is a compressed file, not a web page."),
    (b"\x89PNG", "is a picture, not a web page."),
    (b"\xff\xd8\xff", "is a picture, not a web page."),
    (b"GIF8", "is a picture, not a web page."),
    (b"bplist00", "is a web archive, not an HTML page."),
)
_ARCHIVE = re.compile(
    rb"^(?:From|MIME-Version|Snapshot-Content-Location):", re.MULTILINE | re.IGNORECASE
)


def page_text(data: bytes, name: str, notes: Notes) -> str:
    """Return the text of a page's bytes, with plain line ends and without NULs.

    Raises
    ------
    FileProblem
        If the bytes are something else than text.
    """
    _refuse_other_kinds(data, name)
    text = _decoded(data, notes)
    if sum(text.count(control) for control in _CONTROLS) > max(8, len(text) // 20):
        raise FileProblem(
            Problem(name, "is not a text.", "Save the page as HTML, or paste its text.")
        )
    if "\0" in text:
        notes.add("The file holds NUL characters, which are no text; they were left out.")
        text = text.replace("\0", "")
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _refuse_other_kinds(data: bytes, name: str) -> None:
    fix = "Save the page as HTML, or paste its text."
    for mark, what in _NOT_PAGES:
        if data.startswith(mark):
            raise FileProblem(Problem(name, what, fix))
    head = data[:2048]
    if _ARCHIVE.search(head) and b"multipart/related" in head.lower():
        raise FileProblem(Problem(name, "is a web archive, not an HTML page.", fix))


def _decoded(data: bytes, notes: Notes) -> str:
    for mark, codec in _MARKS:
        if data.startswith(mark):
            return _as(codec, data[len(mark) :], notes)
    if codec := _wide(data[:64]):
        return _as(codec, data, notes)
    found = _NAMED.search(data[:_HEAD])
    named = found[1].decode("ascii").lower() if found else ""
    if named in _DOUBLE:
        try:
            return data.decode(_DOUBLE[named])
        except UnicodeDecodeError:
            pass
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        return _not_utf8(data, named, notes)
    if named in {**_SINGLE, **_DOUBLE} and not text.isascii():
        notes.add(f"The page says it is in {named}, but it is in UTF-8; it was read as that.")
    return text


def _wide(head: bytes) -> str:
    """Return the codec of text in units of two bytes that has no mark, "" where it is not such.

    The first characters of HTML and of JSON are ASCII, so every other byte is zero.
    """
    if len(head) >= 4 and head[0] and not any(head[1::2]) and all(head[::2]):
        return "utf-16-le"
    if len(head) >= 4 and head[1] and not any(head[::2]) and all(head[1::2]):
        return "utf-16-be"
    return ""


def _as(codec: str, data: bytes, notes: Notes) -> str:
    text = data.decode(codec, "replace")
    _say_unreadable(text.count("\ufffd") - data.count("\ufffd".encode(codec)), notes)
    return text


def _not_utf8(data: bytes, named: str, notes: Notes) -> str:
    text = data.decode("utf-8", "replace")
    bad = text.count("\ufffd")
    good = len(text) - bad - len(data.translate(None, bytes(range(128, 256))))
    if named not in _SINGLE and good >= 2 * bad:
        _say_unreadable(bad, notes)
        return text
    if named not in _SINGLE:
        notes.add("The page is not in UTF-8 and was read as Western European text (Windows-1252).")
    text = data.decode(_SINGLE.get(named, "cp1252"), "replace")
    _say_unreadable(text.count("\ufffd"), notes)
    return text


def _say_unreadable(count: int, notes: Notes) -> None:
    if count > 0:
        notes.add(
            f"{count} characters of the file could not be read and stand as '\ufffd'."
            if count > 1
            else "One character of the file could not be read and stands as '\ufffd'."
        )

"""Bytes of a part as lines of text, with no line too long and no file taken whole."""

from __future__ import annotations

import hashlib
import io
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager

from reformulate.errors import BadInput, FileProblem, Problem
from reformulate.foods.store.download import Part
from reformulate.foods.store.tally import AGAIN
from reformulate.foods.store.watch import Watch

_BLOCK = 2**18  # bytes read at once
LONGEST_LINE = 2**20
"""Bytes; the longest line of a release, a list of ingredients, has some 10 000."""
_BOM = b"\xef\xbb\xbf"


class Reading:
    """One pass over a part: hands out bytes, counts and hashes them, and hears when to stop."""

    def __init__(self, part: Part, watch: Watch) -> None:
        self.part = part
        self.bytes = 0
        self.rows = 0
        """Rows that were asked of it, counted by whoever reads them."""
        self.latin_lines = 0
        """Lines that were not UTF-8."""
        self._watch = watch
        self._hash = hashlib.sha256()

    @property
    def sha256(self) -> str:
        """Digest of what was read so far."""
        return self._hash.hexdigest()

    def blocks(self) -> Iterator[bytes]:
        """Give the part in blocks, without a byte order mark.

        Raises
        ------
        FileProblem
            The part is broken off, damaged or cannot be read.
        BadInput
            It holds NUL bytes: it is not text.
        """
        words = f"Reading {self.part.name}"
        with self._reported():
            stream = self.part.opener()
        with stream:
            while True:
                with self._reported():
                    block = stream.read(_BLOCK)
                if not block:
                    return
                self._hash.update(block)
                self._watch.read(len(block), words)
                first, self.bytes = self.bytes == 0, self.bytes + len(block)
                if b"\0" in block:
                    raise BadInput(self._not_text())
                yield block.removeprefix(_BOM) if first else block

    @contextmanager
    def _reported(self) -> Iterator[None]:
        try:
            yield
        except (OSError, EOFError, zlib.error, zipfile.BadZipFile) as error:
            what = f"The file is damaged or broken off ({error})."
            raise FileProblem(Problem(where=self.part.where, what=what, fix=AGAIN)) from error
        except (RuntimeError, NotImplementedError) as error:
            what = f"The archive is packed in a way that cannot be read ({error})."
            fix = "Unpack it and choose the folder."
            raise FileProblem(Problem(where=self.part.where, what=what, fix=fix)) from error

    def _not_text(self) -> Problem:
        what = "Found bytes that are not text in UTF-8 or Latin-1."
        fix = "Save it as UTF-8 text; unpack it first if it is an archive or a spreadsheet."
        return Problem(where=self.part.where, what=what, fix=fix)


def lines_of(reading: Reading) -> Iterator[str]:
    """Give the lines of a part with their ends, UTF-8; a line that is not is taken as Latin-1.

    Raises
    ------
    BadInput
        A line is longer than any of a release, or what `Reading.blocks` raises.
    """
    rest = b""
    number = 1
    for block in reading.blocks():
        whole, newline, begun = block.rpartition(b"\n")
        if not newline:
            rest += block
            if len(rest) > LONGEST_LINE:
                raise BadInput(_too_long(reading, number))
            continue
        whole = rest + whole + newline
        rest = begun
        if len(whole) > LONGEST_LINE and max(map(len, whole.split(b"\n"))) > LONGEST_LINE:
            raise BadInput(_too_long(reading, number))
        number += whole.count(b"\n")
        yield from io.StringIO(_decoded(whole, reading), newline="\n")
    if rest:
        yield _decoded(rest, reading)


def _decoded(raw: bytes, reading: Reading) -> str:
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError:
        return "".join(_line(line, reading) for line in raw.splitlines(keepends=True))


def _line(raw: bytes, reading: Reading) -> str:
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError:
        reading.latin_lines += 1
        return raw.decode("latin-1")


def _too_long(reading: Reading, number: int) -> Problem:
    return Problem(
        where=f"{reading.part.where}, about line {number}",
        what=f"A line is longer than {LONGEST_LINE // 2**20} MB, as in no release.",
        fix="Choose the file as it was downloaded.",
    )

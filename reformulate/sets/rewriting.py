"""Writing into a file that is there: only over what was read, and so that it reads the same again."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, Self

import tomlkit
from tomlkit.exceptions import TOMLKitError

from reformulate.errors import FileProblem, Problem
from reformulate.sets.comments import all_comments
from reformulate.sets.loading import decode, load_bytes, parse

_MARK: Final = b"\xef\xbb\xbf"
"""The byte order mark some editors put before UTF-8 text; kept where it was."""
_CANNOT_FOLLOW: Final = (
    *(TOMLKitError, ValueError, LookupError, TypeError, AttributeError, RuntimeError),
    FileProblem,
)
"""What comes of a layout that the editor of the text cannot follow."""


def existing(path: Path) -> bytes | None:
    """Return what a file holds, None where there is none."""
    try:
        if not path.exists():
            return None
    except (OSError, ValueError):
        pass  # Reading says what is wrong with the path.
    return load_bytes(path)


def digest_of(data: bytes | None) -> str:
    """Return a mark of what a file holds; "" where there is no file."""
    return "" if data is None else hashlib.sha256(data).hexdigest()


def refuse_changed(path: Path, data: bytes | None, expected_digest: str | None, fix: str) -> None:
    """Raise FileProblem where a file no longer holds what was read; None expects nothing."""
    if expected_digest is not None and digest_of(data) != expected_digest:
        done = "removed" if data is None else "changed"
        what = f"has been {done} by another program since it was opened."
        raise FileProblem(Problem(str(path), what, fix))


@dataclass(frozen=True, slots=True, kw_only=True)
class FileText:
    """The text of a TOML file that is to be written into."""

    name: str
    data: bytes | None
    """The file's bytes; None where there is none yet."""
    rows: str
    r"""Its text with ``\n`` ends; "" where it has none."""
    says: dict[str, Any]
    """Its TOML data."""
    windows: bool
    r"""Whether its rows end with ``\r\n``."""

    @classmethod
    def of(cls, data: bytes | None, name: str) -> Self:
        """Read a file's bytes; FileProblem where they are no TOML."""
        text = "" if data is None or not data.strip() else decode(data, name)
        rows = text.replace("\r\n", "\n")
        says = parse(rows, name) if rows else {}
        return cls(name=name, data=data, rows=rows, says=says, windows="\r\n" in text)

    def rewritten(
        self, edit: Callable[[str], str], keeps: Callable[[dict[str, Any]], bool]
    ) -> bytes | None:
        """Return the bytes of the file with something written into it.

        Parameters
        ----------
        edit
            Writes it into rows.
        keeps
            Whether TOML data says it, and all that is not ours besides.

        Returns
        -------
        bytes or None
            None where no layout of the file lets it be read again.
        """
        for plainly in (False, True):
            try:
                new = edit(self._plain_layout() if plainly else self.rows)
                if self.windows:
                    new = new.replace("\n", "\r\n")
                encoded = new.encode()
                after = parse(new, self.name)
            except _CANNOT_FOLLOW:
                continue
            if keeps(after):
                marked = self.data is not None and self.data.startswith(_MARK)
                return (_MARK if marked else b"") + encoded
        return None

    def _plain_layout(self) -> str:
        """Return the text in the plainest layout: its comments, then values, then tables."""
        comments = "".join(f"{comment}\n" for comment in all_comments(tomlkit.parse(self.rows)))
        tables_last = sorted(self.says.items(), key=lambda pair: _is_table(pair[1]))
        return comments + tomlkit.dumps(dict(tables_last))


def _is_table(value: object) -> bool:
    return isinstance(value, dict) or (
        isinstance(value, list) and bool(value) and all(isinstance(v, dict) for v in value)
    )

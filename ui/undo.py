"""One undo command for every edit: swap one whole document for another."""

from __future__ import annotations

from collections.abc import Hashable
from typing import TYPE_CHECKING

from PySide6.QtGui import QUndoCommand

from reformulate import Document

if TYPE_CHECKING:
    from ui.session import Session


class ReplaceDocument(QUndoCommand):
    """Put ``after`` in the place of what stands there; edits of one key fold into one step."""

    def __init__(
        self, session: Session, index: int, after: Document, text: str, key: Hashable = None
    ) -> None:
        super().__init__(text)
        self._session, self.index, self.key = session, index, key
        self._before, self.after = session.documents[index], after

    def id(self) -> int:
        """Commands without a key never merge."""
        return -1 if self.key is None else 1

    def mergeWith(self, other: QUndoCommand) -> bool:
        """Take over a later edit of the same thing; a round trip leaves no step."""
        if not isinstance(other, ReplaceDocument):
            return False
        if (other.key, other.index) != (self.key, self.index):
            return False
        self.after = other.after
        self.setObsolete(self._before == self.after)
        return True

    def redo(self) -> None:
        """Put the edited document in place."""
        self._session.adopt(self.index, self.after)

    def undo(self) -> None:
        """Put the document of before in place."""
        self._session.adopt(self.index, self._before)

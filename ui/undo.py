"""One undo command for every edit: swap one whole document for another."""

from __future__ import annotations

from collections.abc import Callable, Hashable

from PySide6.QtGui import QUndoCommand

from reformulate import Document


class ReplaceDocument(QUndoCommand):
    """Put ``after`` in the place of ``before``; edits of one key fold into one step."""

    def __init__(
        self,
        put: Callable[[Document], None],
        before: Document,
        after: Document,
        text: str,
        key: Hashable = None,
    ) -> None:
        super().__init__(text)
        self._put, self._before = put, before
        self.after, self.key = after, key

    def id(self) -> int:
        """Commands without a key never merge."""
        return -1 if self.key is None else 1

    def mergeWith(self, other: QUndoCommand) -> bool:
        """Take over a later edit of the same thing; a round trip leaves no step."""
        if not isinstance(other, ReplaceDocument) or other.key != self.key:
            return False
        self.after = other.after
        self.setObsolete(self._before == self.after)
        return True

    def redo(self) -> None:
        """Put the edited document in place."""
        self._put(self.after)

    def undo(self) -> None:
        """Put the document of before in place."""
        self._put(self._before)

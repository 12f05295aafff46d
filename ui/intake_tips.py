"""Tips and menu entries that show what people wrote, sign for sign."""

from __future__ import annotations

from html import escape


def plain_tip(text: str) -> str:
    """Return a tip that shows ``text`` as it stands; Qt would take a "<b>" in it for markup."""
    if "<" not in text:
        return text
    return f"<qt>{escape(text, quote=False)}</qt>".replace("\n", "<br>")


def plain_entry(text: str) -> str:
    """Return a menu entry that shows ``text`` as it stands; Qt would take an "&" in it for a key."""
    return text.replace("&", "&&")

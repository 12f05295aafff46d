"""Reading a saved page: recipes where it marks them, else its text."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from reformulate.errors import FileProblem, Problem
from reformulate.recipes.pages.cleaning import tidy
from reformulate.recipes.pages.collecting import Found, in_all, recipes_in, scripts_of
from reformulate.recipes.pages.decoding import page_text
from reformulate.recipes.pages.elements import BLOCKS, MOST_CHARACTERS, Element, elements
from reformulate.recipes.pages.flowing import lines_of
from reformulate.recipes.pages.json_reading import CannotRead, read_json
from reformulate.recipes.pages.microdata import items_of
from reformulate.recipes.pages.notes import Notes
from reformulate.recipes.pages.page import Page
from reformulate.recipes.pages.recipe_from_schema import LONGEST_TITLE

PAGE_LIMIT: Final = 20_000_000
"""Most bytes a page may have [byte]; a page saved with its pictures in it has some millions."""
MOST_TEXT: Final = 500_000
"""Most characters of text kept of a page without recipes [count]."""
LONGEST_ROW: Final = 10_000
"""Most characters kept of one line of that text [count]."""

_INLINE: Final = (
    "a|abbr|b|base|br|button|em|font|i|img|input|link|meta|script|small|span|strong|style|sub"
)
_MARKUP = re.compile(
    rf"<(?:!doctype|!--|\?xml|/?(?:{'|'.join(sorted(BLOCKS))}|{_INLINE}|sup|title|u)(?=[\s/>]))",
    re.IGNORECASE,
)
"""What tells a page from a text in which <this> may stand."""
_HEAD: Final = 1_000_000
"""How far into a file its first markup is looked for [count]."""
_PAGES: Final = (".html", ".htm", ".xhtml")
_MOST_NODES: Final = 500_000


def read_page(data: bytes, name: str = "") -> Page:
    """Read a saved web page, or a ``.json`` with a recipe of schema.org.

    Nothing is fetched and no script is run; time and memory are bounded whatever the bytes.

    Parameters
    ----------
    data
        The file's bytes. To keep memory bounded, read at most ``PAGE_LIMIT`` + 1 of them.
    name
        The file's name, for messages; one that ends in ``.json`` says that it is JSON.

    Returns
    -------
    Page
        All recipes that list ingredients, or else the text that is seen; and what to say about it.

    Raises
    ------
    FileProblem
        If the file is empty, too large, not a text, or a ``.json`` that cannot be read as JSON.
    """
    title = name or "The page"
    if len(data) > PAGE_LIMIT:
        what = f"is larger than {PAGE_LIMIT // 1_000_000} MB."
        fix = "Save it without its pictures (as HTML only), or paste the recipe as text."
        raise FileProblem(Problem(title, what, fix))
    notes = Notes()
    text = page_text(data, title, notes)
    if not text.strip("\ufeff \t\n\f"):
        raise FileProblem(Problem(title, "is empty.", "Save the page again."))
    is_json = name.lower().endswith((".json", ".jsonld"))
    if is_json or text[:1000].lstrip("\ufeff \t\n")[:1] in {"{", "["}:
        try:
            return _from_json(read_json(text, "The JSON", notes), notes)
        except CannotRead as reason:
            if is_json and not _MARKUP.match(text.lstrip("\ufeff \t\n")):
                what = f"cannot be read as JSON: {reason}."
                raise FileProblem(Problem(title, what, "Save it again.")) from None
    if name.lower().endswith(_PAGES) or _MARKUP.search(text, 0, _HEAD):
        return _from_html(text, notes)
    notes.add("The file is plain text, not a web page.")
    if len(text) > MOST_CHARACTERS:
        notes.add("The file has more text than can be read; its end was left out.")
    return _text_page(text[:MOST_CHARACTERS].split("\n"), notes)


def _from_json(values: list[object], notes: Notes) -> Page:
    found = recipes_in(values, notes)
    if not found:
        notes.add("The JSON holds no recipe with ingredients.")
    return Page(recipes=in_all(found, notes), notes=tuple(notes))


def _from_html(text: str, notes: Notes) -> Page:
    root = elements(text, notes)
    found = recipes_in(scripts_of(root, notes), notes)
    # Many pages mark the same recipe in both ways; scripts are the more complete.
    titles = {each.recipe.title.casefold() for each in found}
    found += [
        each
        for each in recipes_in(list(items_of(root, notes)), notes)
        if each.recipe.title.casefold() not in titles
    ]
    if found:
        recipes = in_all(_titled(found, root), notes)
        return Page(recipes=recipes, notes=tuple(notes))
    notes.add("The page marks no recipe with ingredients; the text seen on it was taken.")
    rows = lines_of(root, most_nodes=_MOST_NODES)
    title = _page_title(root)
    if title and not any(element.tag == "h1" for element in root.within()):
        rows = [title, "", *rows]
    return _text_page(rows, notes)


def _titled(found: list[Found], root: Element) -> list[Found]:
    """Return the recipes, a single one without a title under that of the page."""
    if len(found) > 1 or found[0].recipe.title or not _page_title(root):
        return found
    found[0].notes.add("The recipe has no title; the page's was taken.")
    recipe = replace(found[0].recipe, title=_page_title(root))
    return [Found(recipe=recipe, notes=found[0].notes)]


def _page_title(root: Element) -> str:
    title = next((element for element in root.within() if element.tag == "title"), None)
    return tidy(title.plain()[: 4 * LONGEST_TITLE])[:LONGEST_TITLE] if title else ""


def _text_page(rows: list[str], notes: Notes) -> Page:
    kept: list[str] = []
    size = 0
    for row in rows:
        if size > MOST_TEXT:
            notes.add(f"The text was cut after {MOST_TEXT:_} characters.".replace("_", " "))
            break
        if len(row) > LONGEST_ROW:
            notes.add(f"A line was cut after {LONGEST_ROW:_} characters.".replace("_", " "))
        kept.append(tidy(row[:LONGEST_ROW]))
        size += len(kept[-1]) + 1
    text = "\n".join(kept).strip()
    if not text:
        notes.add("No text is seen on the page; a script may have to run to show it.")
    return Page(text=text, notes=tuple(notes))

"""Sets: folders of recipe files, read whole, written whole, and never lost."""

from reformulate.sets.demo import demo_source, working_copy
from reformulate.sets.documents import BrokenFile, Document, RecipeSet
from reformulate.sets.drafts import draft_is_newer, drop_draft, read_draft, write_draft
from reformulate.sets.folders import exchanges_of, measures_of, prices_of, read_set, taken_names
from reformulate.sets.lock import Holder, SetLock
from reformulate.sets.own_foods import read_own_foods, unread_own_food_keys
from reformulate.sets.own_foods_writing import remove_own_food, write_own_food, write_own_foods
from reformulate.sets.reading import read_document, unread_keys
from reformulate.sets.writing import digest, write_document

__all__ = [
    "BrokenFile",
    "Document",
    "Holder",
    "RecipeSet",
    "SetLock",
    "demo_source",
    "digest",
    "draft_is_newer",
    "drop_draft",
    "exchanges_of",
    "measures_of",
    "prices_of",
    "read_document",
    "read_draft",
    "read_own_foods",
    "read_set",
    "remove_own_food",
    "taken_names",
    "unread_keys",
    "unread_own_food_keys",
    "working_copy",
    "write_document",
    "write_draft",
    "write_own_food",
    "write_own_foods",
]

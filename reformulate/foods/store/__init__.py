"""Public releases of food composition that a user downloaded, in one searchable file."""

from __future__ import annotations

from reformulate.foods.store.everywhere import all_foods, search_everywhere
from reformulate.foods.store.importer import import_release
from reformulate.foods.store.place import default_store_path
from reformulate.foods.store.provenance import Imported, Source, SourceFile
from reformulate.foods.store.search import Hit
from reformulate.foods.store.store import FoodStore
from reformulate.foods.store.tally import Skipped
from reformulate.foods.store.watch import Cancel, Progress

__all__ = [
    "Cancel",
    "FoodStore",
    "Hit",
    "Imported",
    "Progress",
    "Skipped",
    "Source",
    "SourceFile",
    "all_foods",
    "default_store_path",
    "import_release",
    "search_everywhere",
]

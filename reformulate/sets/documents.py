"""A set in memory: frozen values, nothing of files but their paths."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from reformulate.brief import Brief, Exchange
from reformulate.errors import Problem
from reformulate.foods import Price
from reformulate.recipes import Recipe


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """One recipe file: the recipe and what is wanted of it."""

    path: Path
    recipe: Recipe
    brief: Brief


@dataclass(frozen=True, slots=True, kw_only=True)
class BrokenFile:
    """A file of a set that could not be read, and everything that must be put right in it."""

    path: Path
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RecipeSet:
    """A folder of recipes worked on together."""

    folder: Path
    title: str
    note: str
    measures: str
    """Key of the system of measures the set's cups and spoons mean."""
    documents: tuple[Document, ...]
    """The recipes that could be read, in the set's order."""
    broken: tuple[BrokenFile, ...]
    currency: str = ""
    """What prices are in: ``$``."""
    prices: tuple[Price, ...] = ()
    matches: tuple[tuple[str, str], ...] = ()
    """The user's words for an ingredient, and the key of the food they mean."""
    exchanges: tuple[Exchange, ...] = ()
    """The user's own pages of the swap book."""

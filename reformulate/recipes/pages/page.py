"""What a saved page gives: frozen values, all of it as the source claims."""

from __future__ import annotations

from dataclasses import dataclass

from reformulate.recipes.printed import in_our_unit


@dataclass(frozen=True, slots=True, kw_only=True)
class PageStep:
    """One step of the method, and the heading it stands under (or "")."""

    section: str = ""
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PageNutrient:
    """One nutrient per serving as the source prints it; nobody has checked it."""

    key: str
    """Our nutrient key, or "" where the table has no such nutrient."""
    label: str
    """Its name in words."""
    value: float
    """The number as printed [in ``unit``], per serving."""
    unit: str
    """``kcal``, ``kJ``, ``kg``, ``g``, ``mg``, ``µg``, ``IU``, ``%``; "" where none is printed."""
    text: str = ""
    """The claim as printed."""
    below: bool = False
    """True where the source says "less than" the value."""

    @property
    def in_our_unit(self) -> float | None:
        """The value in the unit of ``key`` [that unit], None where the printed one does not tell."""
        return in_our_unit(self.key, self.value, self.unit) if self.key else None


@dataclass(frozen=True, slots=True, kw_only=True)
class PageRecipe:
    """One recipe of a page, its lines not yet read."""

    title: str
    yield_text: str = ""
    """The yield as written; "" where the page gives none."""
    servings: float | None = None
    """Servings the yield names [count]; None where it names none."""
    lines: tuple[str, ...]
    """Ingredient lines as written, without markup; a heading among them ends with a colon."""
    steps: tuple[PageStep, ...] = ()
    total_minutes: float | None = None
    """Time from start to finish [min]."""
    prep_minutes: float | None = None
    """Time to prepare [min]."""
    cook_minutes: float | None = None
    """Time to cook [min]."""
    serving_text: str = ""
    """How large a serving is that ``nutrition`` speaks of, as written."""
    nutrition: tuple[PageNutrient, ...] = ()
    """Per serving, the source's claim."""
    source: str = ""
    """Who wrote it and where it stood, as plain text."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """What was found in one file."""

    recipes: tuple[PageRecipe, ...] = ()
    """All recipes with ingredients, in the order of the page."""
    text: str = ""
    """What a reader of the page would see, line by line; "" where there are recipes."""
    notes: tuple[str, ...] = ()
    """What was mended, guessed, left out or not understood, in plain words."""

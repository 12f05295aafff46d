"""A food of FoodData Central, however it was written down."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from reformulate.foods.plain_text import clean, sentence_case
from reformulate.foods.store.figures import nutrients_of
from reformulate.foods.store.portions import measures_of, serving_wording
from reformulate.foods.store.record import (
    BRANDED,
    FOUNDATION,
    SR_LEGACY,
    SURVEY,
    Record,
    release_name,
    usable_figures,
)
from reformulate.foods.store.tally import Tally
from reformulate.foods.table import Food

KIND_OF: Final[Mapping[str, str]] = {
    "foundation": FOUNDATION,
    "foundation_food": FOUNDATION,
    "sr legacy": SR_LEGACY,
    "sr_legacy_food": SR_LEGACY,
    "survey (fndds)": SURVEY,
    "survey_fndds_food": SURVEY,
    "branded": BRANDED,
    "branded_food": BRANDED,
}
"""Our name of each kind of food, by the words of the JSON and the CSV files in lower case."""

LABEL: Final[Mapping[str, int]] = {
    "calories": 1008,
    "fat": 1004,
    "saturatedFat": 1258,
    "cholesterol": 1253,
    "sodium": 1093,
    "carbohydrates": 1005,
    "fiber": 1079,
    "sugars": 2000,
    "addedSugar": 1235,
    "protein": 1003,
    "calcium": 1087,
    "iron": 1089,
    "potassium": 1092,
}
"""Component of each figure of a label, in the component's own unit."""

_GRAMS = frozenset(["g", "gm", "grm", "gram", "grams"])
_MILLILITRES = frozenset(["ml", "mlt", "milliliter", "millilitre"])
_MOST_PORTIONS = 100


@dataclass(slots=True, kw_only=True)
class FdcFood:
    """What a download tells of one food; filled while it is read."""

    fdc_id: int
    kind: str
    description: str
    category: str = ""
    ndb: str = ""
    """Number in the Standard Reference, as written."""
    brand: str = ""
    serving: float | None = None
    """Of the label [``serving_unit``]."""
    serving_unit: str = ""
    household: str = ""
    """The label's household serving."""
    components: dict[int, float] = field(default_factory=dict)
    """Amount per 100 g by component id, in the units of COMPONENTS."""
    label: dict[int, float] = field(default_factory=dict)
    """Amount per serving by component id."""
    portions: list[tuple[float, str]] = field(default_factory=list)
    """Grams [g] and wording."""

    def weigh(self, grams: float, wording: str) -> None:
        """Add a portion."""
        if wording and len(self.portions) < _MOST_PORTIONS:
            self.portions.append((grams, wording))


def fdc_release(path: Path) -> str:
    """Return the date in the name of a download, else the name."""
    return release_name(path, r"(\d{4}-\d\d(?:-\d\d)?)", "{}")


def record_of(found: FdcFood, release: str, tally: Tally) -> Record | None:
    """Return the food as a record, or None, noted, where there is nothing to use."""
    place = f"FDC {found.fdc_id}"
    name = clean(found.description)
    if not name:
        tally.skip("It has no name.", place)
        return None
    components, label_note = _completed(found)
    figures, note = nutrients_of(components)
    usable = usable_figures(figures, tally, place)
    if usable is None:
        return None
    if name.isupper():
        name = sentence_case(name)
    brand = clean(found.brand, 60)
    ndb = found.ndb.strip()
    food = Food(
        key=f"fdc:{found.fdc_id}",
        name=f"{name} ({brand})" if brand else name,
        group=clean(found.category, 80) or found.kind,
        source=f"FDC {found.fdc_id}, {found.kind}, {release}",
        # Numbers given after the last release of the Standard Reference have six digits.
        ndb=ndb.zfill(5) if ndb.isascii() and ndb.isdigit() and len(ndb) <= 5 else None,
        measures=measures_of(_portions(found), f"FDC {found.fdc_id}, {release}"),
        note=" ".join(part for part in (note, label_note) if part),
    )
    return Record(kind=found.kind, food=food, figures=usable)


def _completed(found: FdcFood) -> tuple[dict[int, float], str]:
    """Figures per 100 g, filled up from the label where it tells more; a note about both."""
    unit = found.serving_unit.strip().casefold()
    if unit in _MILLILITRES:
        return found.components, "Figures are per 100 ml, taken as if 100 ml weighed 100 g."
    missing = {key: amount for key, amount in found.label.items() if key not in found.components}
    if not missing or unit not in _GRAMS or not found.serving or found.serving <= 0:
        return found.components, ""
    per_100g = {key: 100 * amount / found.serving for key, amount in missing.items()}
    return (
        found.components | per_100g,
        "Some figures are from the label's serving, as rounded there.",
    )


def _portions(found: FdcFood) -> list[tuple[float, str]]:
    if found.serving is None or found.serving_unit.strip().casefold() not in _GRAMS:
        return found.portions
    wording = serving_wording(found.household) or "1 serving"
    return [(found.serving, wording), *found.portions]

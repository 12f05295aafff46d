"""FoodData Central as JSON: what one food looks like there."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import msgspec

from reformulate.foods.plain_text import clean
from reformulate.foods.store.download import Download, Part
from reformulate.foods.store.fdc import KIND_OF, LABEL, FdcFood, fdc_release, record_of
from reformulate.foods.store.figures import COMPONENT_OF, COMPONENTS, scale_between
from reformulate.foods.store.json_stream import JsonFoods
from reformulate.foods.store.numbers import Identities
from reformulate.foods.store.portions import NO_AMOUNT, wording_of
from reformulate.foods.store.record import Record
from reformulate.foods.store.release_reader import ReleaseReader
from reformulate.foods.store.tally import Faults, Tally
from reformulate.foods.store.text import Reading

_MOST_ID = 99_999_999


class _Nutrient(msgspec.Struct):
    id: int | None = None
    number: str | float | None = None
    unitName: str | None = None  # noqa: N815 - as the file has it


class _Amount(msgspec.Struct):
    nutrient: _Nutrient | None = None
    amount: float | None = None


class _Named(msgspec.Struct):
    name: str | None = None
    description: str | None = None
    wweiaFoodCategoryDescription: str | None = None  # noqa: N815


class _Portion(msgspec.Struct):
    gramWeight: float | None = None  # noqa: N815
    amount: float | None = None
    value: float | None = None
    """The amount, in some releases."""
    measureUnit: _Named | None = None  # noqa: N815
    modifier: str | None = None
    portionDescription: str | None = None  # noqa: N815


class _LabelFigure(msgspec.Struct):
    value: float | None = None


class _Food(msgspec.Struct):
    fdcId: int  # noqa: N815
    dataType: str  # noqa: N815
    description: str
    foodNutrients: list[_Amount] | None = None  # noqa: N815
    foodPortions: list[_Portion] | None = None  # noqa: N815
    foodCategory: _Named | str | None = None  # noqa: N815
    wweiaFoodCategory: _Named | None = None  # noqa: N815
    brandedFoodCategory: str | None = None  # noqa: N815
    ndbNumber: int | str | None = None  # noqa: N815
    brandOwner: str | None = None  # noqa: N815
    brandName: str | None = None  # noqa: N815
    servingSize: float | None = None  # noqa: N815
    servingSizeUnit: str | None = None  # noqa: N815
    householdServingFullText: str | None = None  # noqa: N815
    labelNutrients: dict[str, _LabelFigure] | None = None  # noqa: N815


def is_fdc_json(download: Download) -> bool:
    """Return whether a download has JSON files."""
    return bool(download.ending(".json"))


@dataclass(slots=True, kw_only=True)
class FdcJson(ReleaseReader):
    """Reads one download of JSON files."""

    _seen: Identities = field(default_factory=Identities)

    def parts(self) -> tuple[Part, ...]:
        """Return the files that are read."""
        return self.download.ending(".json")

    def read(self) -> None:
        """Nothing to do beforehand: each food stands in one piece."""
        self.release = self.release or fdc_release(self.download.path)

    def records(self) -> Iterator[Record]:
        """Give the foods as they come.

        Raises
        ------
        BadInput
            A file is no JSON, or too many of its foods are broken.
        FileProblem
            A file cannot be read.
        """
        for part in self.parts():
            reading = Reading(part, self.watch)
            self.readings.append(reading)
            yield from self._records(reading)

    def _records(self, reading: Reading) -> Iterator[Record]:
        faults = Faults(self.tally, reading.part.where, lambda: reading.rows)
        source = JsonFoods(reading)
        for at, element in source.foods():
            self.picked = source.picked
            reading.rows += 1
            found = self._food(element, at, faults)
            if found is not None:
                record = record_of(found, self.release, self.tally)
                if record is not None:
                    yield record
        faults.judge()

    def _food(self, element: Any, at: int, faults: Faults) -> FdcFood | None:
        try:
            read = msgspec.convert(element, _Food, strict=False)
        except (msgspec.ValidationError, RecursionError, UnicodeError) as error:
            faults.add(f"The food cannot be read: {_fault(error)}.", at, "character")
            return None
        kind = KIND_OF.get(read.dataType.casefold())
        if kind is None:
            what = f"Of kind “{clean(read.dataType, 40)}”, which is no food to cook with."
            self.tally.skip(what, f"FDC {read.fdcId}")
        elif not 0 <= read.fdcId <= _MOST_ID:
            faults.add("fdcId is not up to eight digits.", at, "character")
        elif not self._seen.add(read.fdcId):
            faults.add("fdcId stands there twice.", at, "character")
        else:
            return _filled(read, kind, self.tally)
        return None


def _filled(read: _Food, kind: str, tally: Tally) -> FdcFood:
    food = FdcFood(
        fdc_id=read.fdcId,
        kind=kind,
        description=read.description,
        category=_category(read),
        ndb=str(read.ndbNumber if read.ndbNumber is not None else ""),
        brand=read.brandName or read.brandOwner or "",
        serving=read.servingSize,
        serving_unit=read.servingSizeUnit or "",
        household=read.householdServingFullText or "",
    )
    for each in read.foodNutrients or []:
        if each.nutrient is None or each.amount is None:
            continue
        if _sound(each.amount):
            _add(food.components, each.nutrient, each.amount, tally, food.fdc_id)
        else:
            tally.skip("An amount is below nothing or no number.", f"FDC {food.fdc_id}")
    for name, figure in (read.labelNutrients or {}).items():
        if name in LABEL and figure.value is not None and _sound(figure.value):
            food.label[LABEL[name]] = figure.value
    for portion in read.foodPortions or []:
        if portion.gramWeight is not None:
            food.weigh(portion.gramWeight, _wording(portion, tally, food.fdc_id))
    return food


def _wording(portion: _Portion, tally: Tally, fdc_id: int) -> str:
    amount = portion.value if portion.amount is None else portion.amount
    if amount is None and not portion.portionDescription:
        # Some releases leave it out. It is not always one: two tablespoons of hummus.
        tally.skip(NO_AMOUNT, f"FDC {fdc_id}")
    return wording_of(
        "" if amount is None else f"{amount:g}",
        (portion.measureUnit.name if portion.measureUnit else None) or "",
        portion.modifier or "",
        portion.portionDescription or "",
    )


def _add(
    components: dict[int, float], nutrient: _Nutrient, amount: float, tally: Tally, fdc_id: int
) -> None:
    component = COMPONENT_OF.get(str(nutrient.id), COMPONENT_OF.get(str(nutrient.number)))
    if component is None:
        return
    ours = COMPONENTS[component][1]
    scale = scale_between(nutrient.unitName or ours, ours)
    if scale is None:
        tally.skip("The unit of a nutrient cannot be turned into ours.", f"FDC {fdc_id}")
    else:
        components.setdefault(component, amount * scale)


def _sound(amount: float) -> bool:
    return math.isfinite(amount) and amount >= 0


def _category(read: _Food) -> str:
    if read.brandedFoodCategory:
        return read.brandedFoodCategory
    if read.wweiaFoodCategory:
        return read.wweiaFoodCategory.wweiaFoodCategoryDescription or ""
    if isinstance(read.foodCategory, _Named):
        return read.foodCategory.description or ""
    return read.foodCategory or ""


def _fault(error: Exception) -> str:
    """Return what is wrong, the same for every row of a list."""
    if isinstance(error, msgspec.ValidationError):
        return clean(re.sub(r"\[\d+\]", "[...]", str(error)), 120)
    return (
        "a name has half a letter" if isinstance(error, UnicodeError) else "it is nested too deep"
    )

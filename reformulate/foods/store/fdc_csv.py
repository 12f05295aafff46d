"""FoodData Central as comma-separated files, any mixture of its kinds of foods."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from typing import Final

from reformulate.errors import BadInput, Problem
from reformulate.foods.plain_text import clean
from reformulate.foods.store.download import Download, Part
from reformulate.foods.store.fdc import KIND_OF, FdcFood, fdc_release, record_of
from reformulate.foods.store.figures import COMPONENT_OF, COMPONENTS, scale_between
from reformulate.foods.store.numbers import Identities, identity, number
from reformulate.foods.store.portions import NO_AMOUNT, wording_of
from reformulate.foods.store.record import Record
from reformulate.foods.store.release_reader import ReleaseReader
from reformulate.foods.store.rows import Layout, RowReader, missing_columns
from reformulate.foods.store.stage import Stage, Staged

_LONGEST = 1000  # characters kept of a text until it is cleaned
_MOST_LOOKED_UP = 20_000  # entries of a table of categories or units; the longest has 700


def _layout(*columns: str, optional: tuple[str, ...] = ()) -> Layout:
    return Layout(columns=(*columns, *optional), optional=frozenset(optional))


_LAYOUTS: Final = {
    "food.csv": _layout("fdc_id", "data_type", "description", optional=("food_category_id",)),
    "food_nutrient.csv": _layout("fdc_id", "nutrient_id", "amount"),
    "nutrient.csv": _layout("id", "unit_name", optional=("nutrient_nbr",)),
    "food_portion.csv": _layout(
        *("fdc_id", "gram_weight"),
        optional=("amount", "measure_unit_id", "modifier", "portion_description"),
    ),
    "measure_unit.csv": _layout("id", "name"),
    "food_category.csv": _layout("id", "description"),
    "wweia_food_category.csv": _layout(
        optional=(
            "wweia_food_category",
            "wweia_food_category_code",
            "wweia_food_category_description",
        )
    ),
    "branded_food.csv": _layout(
        "fdc_id",
        optional=(
            *("brand_owner", "brand_name", "branded_food_category"),
            *("serving_size", "serving_size_unit", "household_serving_fulltext"),
        ),
    ),
    "sr_legacy_food.csv": _layout("fdc_id", "ndb_number"),
    "foundation_food.csv": _layout("fdc_id", "ndb_number"),
}
"""Every file that is read, in no order; the first two must be there."""
_NEEDED = ("food.csv", "food_nutrient.csv")
_Rows = Callable[[RowReader], Iterator[Staged]]
_FOOD, _MAKER, _SERVING, _NDB, _AMOUNT, _PORTION = range(6)


def is_fdc_csv(download: Download) -> bool:
    """Return whether a download has one of the files that every such release has."""
    return any(download.find(name) for name in _NEEDED)


@dataclass(slots=True, kw_only=True)
class FdcCsv(ReleaseReader):
    """Reads one download of comma-separated files."""

    stage: Stage
    _foods: Identities = field(default_factory=Identities)
    _categories: dict[str, str] = field(default_factory=dict)
    _units: dict[str, str] = field(default_factory=dict)
    _wanted: dict[str, tuple[int, float]] = field(default_factory=dict)

    def parts(self) -> tuple[Part, ...]:
        """Return the files that are read."""
        found = (self.download.find(name) for name in _LAYOUTS)
        return tuple(part for part in found if part is not None)

    def read(self) -> None:
        """Put everything on the stage; raises as the base says."""
        self._check()
        self.release = self.release or fdc_release(self.download.path)
        self._wanted = {text: (component, 1.0) for text, component in COMPONENT_OF.items()}
        self._each("nutrient.csv", self._read_nutrients)
        self._each("food_category.csv", self._read_categories)
        self._each("wweia_food_category.csv", self._read_survey_categories)
        self._each("measure_unit.csv", self._read_units)
        self._each("food.csv", self._food_rows)
        self._each("branded_food.csv", self._label_rows)
        self._each("sr_legacy_food.csv", self._number_rows)
        self._each("foundation_food.csv", self._number_rows)
        self._each("food_portion.csv", self._portion_rows)
        self._each("food_nutrient.csv", self._amount_rows)

    def records(self) -> Iterator[Record]:
        """Give the foods that were put on the stage, by number."""
        for fdc_id, rows in self.stage.foods():
            record = record_of(self._gathered(fdc_id, rows), self.release, self.tally)
            if record is not None:
                yield record

    def _check(self) -> None:
        """All that is wrong with the files' layout, at once."""
        problems = []
        for name in _NEEDED:
            if self.download.find(name) is None:
                what = f"There is no {name}."
                fix = "Choose the folder or archive with all files of the release."
                where = str(self.download.path)
                problems.append(Problem(where=where, what=what, fix=fix))
        for part in self.parts():
            problems += missing_columns(part, _LAYOUTS[part.name])
        if problems:
            raise BadInput(problems)

    def _each(self, name: str, rows: _Rows) -> None:
        if part := self.download.find(name):
            self.stage.add(rows(self.rows_of(part, _LAYOUTS[name])))

    def _read_nutrients(self, reader: RowReader) -> Iterator[Staged]:
        for line, (text, unit, nbr) in reader.rows():
            component = COMPONENT_OF.get(text, COMPONENT_OF.get(nbr))
            if component is None:
                continue
            scale = scale_between(unit, COMPONENTS[component][1])
            for name in {text, nbr} - {""}:
                if scale is None:
                    self._wanted.pop(name, None)
                else:
                    self._wanted[name] = component, scale
            if scale is None:
                reader.faults.add("The unit of the nutrient cannot be turned into ours.", line)
        yield from ()

    def _read_categories(self, reader: RowReader) -> Iterator[Staged]:
        _look_up(self._categories, (row for _, row in reader.rows()))
        yield from ()

    def _read_survey_categories(self, reader: RowReader) -> Iterator[Staged]:
        _look_up(self._categories, ((new or old, name) for _, (new, old, name) in reader.rows()))
        yield from ()

    def _read_units(self, reader: RowReader) -> Iterator[Staged]:
        _look_up(self._units, (row for _, row in reader.rows()))
        yield from ()

    def _food_rows(self, reader: RowReader) -> Iterator[Staged]:
        for line, (text, data_type, description, category) in reader.rows():
            kind = KIND_OF.get(data_type.casefold())
            fdc_id = identity(text)
            if fdc_id is None:
                reader.faults.add("fdc_id is not up to eight digits.", line)
            elif kind is None:
                what = f"Of kind “{clean(data_type, 40)}”, which is no food to cook with."
                self.tally.skip(what, f"{reader.part.where}, line {line}")
            elif not self._foods.add(fdc_id):
                reader.faults.add("fdc_id stands there twice.", line)
            else:
                group = self._categories.get(category, "" if category.isdigit() else category)
                yield fdc_id, _FOOD, kind, description[:_LONGEST], group[:_LONGEST]

    def _label_rows(self, reader: RowReader) -> Iterator[Staged]:
        for _, (text, owner, brand, category, size, unit, household) in reader.rows():
            if (fdc_id := self._known(text)) is not None:
                maker = (brand or owner)[:_LONGEST]
                yield fdc_id, _MAKER, maker, category[:_LONGEST], None
                yield fdc_id, _SERVING, number(size), unit[:_LONGEST], household[:_LONGEST]

    def _number_rows(self, reader: RowReader) -> Iterator[Staged]:
        for _, (text, ndb) in reader.rows():
            if (fdc_id := self._known(text)) is not None:
                yield fdc_id, _NDB, ndb[:_LONGEST], None, None

    def _portion_rows(self, reader: RowReader) -> Iterator[Staged]:
        for line, (text, weight, amount, unit, modifier, description) in reader.rows():
            fdc_id = self._known(text)
            if fdc_id is None:
                continue
            grams = number(weight)
            name = self._units.get(unit, "")
            if grams is None:
                reader.faults.add("gram_weight is no number.", line)
            elif unit and not name and unit != "9999" and not (modifier or description):
                what = "The unit of the portion is not in measure_unit.csv."
                self.tally.skip(what, f"{reader.part.where}, line {line}")
            elif not amount and not description:
                self.tally.skip(NO_AMOUNT, f"{reader.part.where}, line {line}")
            elif wording := wording_of(amount, name, modifier, description):
                yield fdc_id, _PORTION, grams, wording[:_LONGEST], None

    def _amount_rows(self, reader: RowReader) -> Iterator[Staged]:
        wanted_of, foods, others = self._wanted.get, self._foods, 0
        for line, (text, component, written) in reader.rows():
            wanted = wanted_of(component)
            if wanted is None or not written:
                continue
            fdc_id, amount = identity(text), number(written)
            if fdc_id is None or amount is None or amount < 0:
                reader.faults.add("fdc_id or amount cannot be read.", line)
            elif fdc_id in foods:
                yield fdc_id, _AMOUNT, wanted[0], amount * wanted[1], None
            else:
                others += 1
        if others:
            what = "Figures of records that are no foods to cook with."
            self.tally.skip(what, reader.part.where, others)

    def _known(self, text: str) -> int | None:
        fdc_id = identity(text)
        return fdc_id if fdc_id is not None and fdc_id in self._foods else None

    def _gathered(self, fdc_id: int, rows: Iterable[Staged]) -> FdcFood:
        found = FdcFood(fdc_id=fdc_id, kind="", description="")
        for _, part, a, b, c in rows:
            if part == _AMOUNT:
                found.components.setdefault(a, b)
            elif part == _PORTION:
                found.weigh(a, b)
            elif part == _FOOD:
                found.kind, found.description, found.category = a, b, c
            elif part == _MAKER:
                found.brand, found.category = a, b or found.category
            elif part == _SERVING:
                found.serving, found.serving_unit, found.household = a, b, c
            else:
                found.ndb = a
        return found


def _look_up(table: dict[str, str], pairs: Iterable[tuple[str, ...]]) -> None:
    for key, name in pairs:
        if len(table) < _MOST_LOOKED_UP:
            table.setdefault(key[:40], clean(name))

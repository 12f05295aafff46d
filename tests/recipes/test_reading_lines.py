"""What holds for a line as a whole: flags, headings, questions, the words as written."""

from __future__ import annotations

import pytest

from reformulate.recipes.reading import About, corpus_fields, read_line
from tests.recipes.asked import abouts


def test_optional_divided_and_extra_are_marked() -> None:
    assert read_line("1 tbsp capers (optional)").optional
    assert read_line("optional: 1 tbsp capers").amount == "1 tbsp"
    assert read_line("3/4 cup parmesan, divided").divided
    assert not read_line("7 cloves garlic (minced and divided in half)").divided
    extra = read_line("1/4 cup olive oil, plus more for drizzling")
    assert extra.and_extra
    assert any("not counted" in remark for remark in extra.remarks)


@pytest.mark.parametrize("text", ["For the topping:", "## Topping", "DIP:", "For the topping"])
def test_a_heading_is_no_ingredient(text: str) -> None:
    line = read_line(text)
    assert line.heading
    assert not line.asks


@pytest.mark.parametrize("text", ["", "   ", "\0\0", "1 cup", "***"])
def test_a_line_without_a_food_asks_for_it(text: str) -> None:
    assert About.FOOD in abouts(read_line(text))


def test_an_amount_for_each_person_is_asked_about() -> None:
    line = read_line("2 slices bread, per person")
    assert [str(ask) for ask in line.asks] == ["The amount is per person: how much in all?"]


def test_a_mended_unit_is_said() -> None:
    line = read_line("2 teaspon cumin")
    assert line.unit_text == "teaspon"
    assert line.remarks == ("'teaspon' is read as tsp.",)


def test_the_words_as_written_stay_as_written() -> None:
    line = read_line("1 ½ Tbsp. Dijon mustard")
    assert (line.quantity_text, line.unit_text, line.food_text) == ("1 ½", "Tbsp", "Dijon mustard")


def test_the_fields_of_a_corpus_join_what_stands_several_times() -> None:
    line = read_line("1 (8 ounce) package cream cheese or 2 cups labneh")
    assert corpus_fields(line) == ("1 | 8 | 2", "ounce | package | cups", "cream cheese | labneh")

"""A food of one's own from its label: figures with their range, kept in the set, used in a recipe."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from reformulate import Line, read_own_foods
from tests.ui.conftest import Person
from ui.dialogs import LineDialog
from ui.own_food_dialog import OwnFoodDialog


def filled(person: Person) -> OwnFoodDialog:
    dialog = person.window.add_own_food()
    dialog.name.setText("Alder Lane curd")  # invented
    for key, text in (
        ("energy_kcal", "60"),
        ("fat_g", "4.5"),
        ("protein_g", "3"),
        ("sodium_mg", "85"),
    ):
        dialog.figures[key].setText(text)
    return dialog


def folder(person: Person) -> Path:
    opened = person.session.recipe_set
    assert opened
    return opened.folder


def test_each_figure_shows_the_range_its_rounding_leaves(person: Person) -> None:
    dialog = filled(person)
    # 4.5 g of fat on a US label stands for 4.25 to 4.75 g (21 CFR 101.9(c)(2)), here in 30 g
    words = dialog._ranges["fat_g"].text()
    assert words.startswith("15 g (")
    assert dialog._ranges["fibre_g"].text() == ""
    assert dialog.take.isEnabled()
    dialog.reject()


def test_it_is_kept_in_the_set_and_found_when_a_line_is_added(person: Person) -> None:
    filled(person).accept()
    (food,) = read_own_foods(folder(person))
    assert food.key == "own:alder-lane-curd"
    person.window.add_line()
    line = person.window.findChild(LineDialog)
    assert line is not None
    line.search.field.setText("alder lane curd")
    assert line.search.food is not None
    assert line.search.food.key == food.key
    line.amount.setText("2 tbsp")
    line.accept()
    assert person.session.problems == ()
    document = person.session.document
    assert document
    assert document.recipe.lines[-1].food == food.key


def test_the_set_opens_with_it_again(person: Person) -> None:
    filled(person).accept()
    person.window.open_set(folder(person))
    assert "own:alder-lane-curd" in person.session.foods
    assert person.session.recipe_set
    assert person.session.recipe_set.broken == ()


def test_what_cannot_be_read_is_told_and_not_taken(person: Person) -> None:
    dialog = filled(person)
    dialog.figures["fat_g"].setText("a little")
    assert not dialog.take.isEnabled()
    assert dialog.problem.text()
    dialog.reject()


def test_figures_that_cannot_agree_are_pointed_out(person: Person) -> None:
    dialog = filled(person)
    dialog.figures["saturated_g"].setText("9")
    assert "saturated" in dialog.problem.text().lower()
    dialog.reject()


def test_a_dip_can_be_used_in_another_and_never_in_itself(person: Person) -> None:
    person.choose("cucumber")
    person.window.use_as_food()
    (food,) = read_own_foods(folder(person))
    assert food.recipe == "cucumber-yogurt-dip.toml"
    assert "can now be used" in person.label("notice")
    document = person.session.document
    assert document
    line = Line(id="dip", food=food.key, grams=50.0)
    recipe = replace(document.recipe, lines=(*document.recipe.lines, line))
    assert person.session.edit(lambda d: replace(d, recipe=recipe), "Add the dip to itself")
    before = read_own_foods(folder(person))
    person.window.use_as_food()
    assert read_own_foods(folder(person)) == before


def test_a_misspelt_key_among_them_is_told_when_the_set_opens(person: Person) -> None:
    filled(person).accept()
    path = folder(person) / "foods.toml"
    path.write_text(path.read_text("utf-8").replace("sodium_mg", "sodum_mg"), "utf-8")
    assert person.session.open_set(folder(person)) is None
    assert "sodum_mg" in person.label("notice")
    assert "Did you mean 'sodium_mg'?" in person.label("notice")

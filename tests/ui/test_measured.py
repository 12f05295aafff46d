"""Measured amounts: shown by default, true for what is shown, and never stale."""

from __future__ import annotations

from reformulate import Answer, household_words
from tests.ui.conftest import Person
from ui.recipe_table import NOW


def measured(person: Person) -> Answer:
    """Wait until the measured answer is on screen."""

    def there() -> None:
        answer = person.session.answer
        assert answer is not None
        assert answer.measured is not None

    person.qtbot.waitUntil(there, timeout=20_000)
    answer = person.session.answer
    assert answer is not None
    return answer


def test_amounts_are_measured_once_the_window_rests(person: Person) -> None:
    person.choose("spinach")
    answer = measured(person)
    assert answer.measured is not None
    assert answer.measured.proven
    for amount, cell in zip(answer.amounts, person.cells(NOW), strict=False):
        if amount.moved and amount.after > 0:
            assert cell == household_words(amount, person.session.system)
            assert not cell.startswith("≈")


def test_every_figure_is_that_of_the_measured_amounts(person: Person) -> None:
    person.choose("trout")
    answer = measured(person)
    energy = answer.achieved.per_serving[1]
    assert person.label("achieved energy_kcal") == f"✓ {energy:.0f} kcal"
    assert person.sentence.startswith("Meets all 4 goals.")
    assert all(result.met for result in answer.goals)


def test_a_handle_runs_ahead_in_grams_and_the_measured_answer_follows(person: Person) -> None:
    person.choose("spinach")
    before = measured(person)
    seen: list[bool] = []

    def look() -> None:
        answer = person.session.answer
        seen.append(answer is not None and answer.measured is None)

    person.drag("energy_kcal", [145, 142, 140], look)
    assert all(seen)
    after = measured(person)
    assert after.optimum is not before.optimum
    assert after.brief.goals[0].at_most == 140.0


def test_one_press_turns_to_exact_grams_and_back(person: Person) -> None:
    person.choose("spinach")
    measured(person)
    person.click("measured")
    answer = person.session.answer
    assert answer is not None
    assert answer.measured is None
    assert not person.session.answers.measurer.busy
    person.click("measured")
    measured(person)


def test_a_stale_result_never_overwrites_a_newer_answer(person: Person) -> None:
    person.choose("spinach")
    old = measured(person)
    person.drag("energy_kcal", [145, 141])
    person.session.answers.take_measured(old)
    answer = person.session.answer
    assert answer is not None
    assert answer.optimum is not old.optimum


def test_where_spoons_are_too_coarse_the_nearest_is_shown_and_said(person: Person) -> None:
    person.choose("spinach")
    reach = person.session.answer.reach_of("energy_kcal")  # type: ignore[union-attr]
    assert reach is not None
    person.type_into("at_most energy_kcal", f"{reach.low + 0.001:.3f}")
    answer = person.session.answer
    assert answer is not None
    assert answer.optimum.relaxed is None
    answer = measured(person)
    assert answer.measured is not None
    if answer.measured.in_the_way:
        assert person.sentence.startswith("Spoons and cups are too coarse: ")
        assert "Exact grams keep everything." in person.sentence
        # The optimum keeps every limit: its proof is not one for other limits.
        assert "nearest limits" not in person.label("certificate")
    else:
        assert all(result.met for result in answer.goals)

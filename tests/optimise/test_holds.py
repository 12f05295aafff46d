"""Holds are kept by the amounts shown, as plain sums find them."""

from __future__ import annotations

import pytest
from hypothesis import given

from reformulate import (
    Answer,
    BatchHold,
    Brief,
    Goal,
    Hold,
    LineHold,
    RatioHold,
    Recipe,
    RoleHold,
    Status,
)
from tests.optimise.dips import CREAMY, closest, grams_of
from tests.recipes.plain_sums import (
    finished_mass,
    members,
    original_grams,
    tied_groups,
    working_mass,
)
from tests.strategies import Case, cases, harsh_cases

LEAN = Goal(nutrient="energy_kcal", at_most=150.0)
SLACK = 1e-7  # grams are shown to a millionth of a gram


def lean(*holds: Hold, recipe: Recipe = CREAMY) -> tuple[Answer, dict[str, float]]:
    found = closest(recipe, Brief(goals=(LEAN,), holds=holds))
    return found, grams_of(found)


def assert_kept(found: Answer) -> None:
    """Check every hold and swap band of an answer against its grams."""
    recipe, brief = found.batch.recipe, found.brief
    now, start = found.grams.tolist(), original_grams(recipe, brief)

    def within(after: float, before: float, tolerance: float) -> None:
        assert before * (1 - tolerance) - SLACK <= after * (1 + SLACK)
        assert after <= before * (1 + tolerance) * (1 + SLACK) + SLACK

    for hold in brief.holds:
        match hold:
            case BatchHold():
                within(
                    finished_mass(recipe, brief, now),
                    finished_mass(recipe, brief, start),
                    hold.tolerance,
                )
            case RoleHold():
                ids = members(recipe, (f"role:{hold.role}",))
                within(
                    working_mass(recipe, brief, now, ids),
                    working_mass(recipe, brief, start, ids),
                    hold.tolerance,
                )
            case RatioHold():
                of, to = members(recipe, hold.of), members(recipe, hold.to)
                ratio = hold.ratio or (
                    working_mass(recipe, brief, start, of) / working_mass(recipe, brief, start, to)
                )
                bottom = working_mass(recipe, brief, now, to)
                within(working_mass(recipe, brief, now, of), ratio * bottom, hold.tolerance)
            case LineHold():
                at = [line.id for line in recipe.lines].index(hold.line)
                if hold.tolerance is not None:
                    within(now[at], start[at], hold.tolerance)
                assert hold.least is None or now[at] >= hold.least - SLACK
                assert hold.most is None or now[at] <= hold.most + SLACK
    for group in tied_groups(recipe, brief):
        within(
            working_mass(recipe, brief, now, group),
            working_mass(recipe, brief, start, group),
            brief.swap_band,
        )


@given(cases())
def test_all_holds_are_kept_by_the_amounts_shown(case: Case) -> None:
    assert_kept(closest(case.recipe, case.brief))


@given(harsh_cases())
def test_all_holds_are_kept_even_where_goals_are_out_of_reach(case: Case) -> None:
    found = closest(case.recipe, case.brief)
    assert found.holds == ()
    assert_kept(found)


def test_the_batch_keeps_its_finished_mass() -> None:
    found, grams = lean(BatchHold(tolerance=0.01))
    assert found.status is Status.OPTIMAL
    assert sum(grams.values()) == pytest.approx(599, rel=0.01 + 1e-9)
    _, free = lean()
    assert sum(free.values()) < 599 * 0.99


def test_a_ratio_keeps_that_of_the_original() -> None:
    ratio = RatioHold(of=("mayonnaise",), to=("sour-cream",), tolerance=0.1)
    _, without = lean(BatchHold())
    assert without["mayonnaise"] / without["sour-cream"] < 110 / 240 * 0.9
    _, grams = lean(BatchHold(), ratio)
    share = grams["mayonnaise"] / grams["sour-cream"]
    assert 110 / 240 * 0.9 - 1e-9 <= share <= 110 / 240 * 1.1 + 1e-9


def test_a_ratio_holds_groups_of_roles_and_lines() -> None:
    ratio = RatioHold(of=("role:acid", "garlic"), to=("role:base", "role:body"), tolerance=0.05)
    found, grams = lean(BatchHold(), ratio)
    assert found.status is Status.OPTIMAL
    share = (grams["lemon-juice"] + grams["garlic"]) / (grams["sour-cream"] + grams["cream-cheese"])
    assert share == pytest.approx(21 / 465, rel=0.05 + 1e-9)


def test_a_ratio_of_ones_own_is_brought_about() -> None:
    ratio = RatioHold(of=("cream-cheese",), to=("sour-cream",), ratio=0.5, tolerance=0.0)
    found = closest(CREAMY, Brief(holds=(BatchHold(), ratio)))
    grams = grams_of(found)
    assert found.status is Status.OPTIMAL
    assert grams["cream-cheese"] / grams["sour-cream"] == pytest.approx(0.5, abs=1e-9)


def test_a_line_stays_in_its_range() -> None:
    _, without = lean(BatchHold())
    assert without["mayonnaise"] < 60
    _, grams = lean(BatchHold(), LineHold(line="mayonnaise", least=60.0, most=80.0))
    assert 60 <= grams["mayonnaise"] <= 80
    _, grams = lean(BatchHold(), LineHold(line="mayonnaise", tolerance=0.2))
    assert 88 <= grams["mayonnaise"] <= 132


def test_the_narrowest_of_a_lines_limits_counts() -> None:
    hold = LineHold(line="mayonnaise", tolerance=0.5, least=70.0)
    _, grams = lean(BatchHold(), hold)
    assert 70 <= grams["mayonnaise"] <= 165


def test_a_range_moves_a_line_that_lies_outside_it() -> None:
    found = closest(CREAMY, Brief(holds=(LineHold(line="mayonnaise", most=83.0),)))
    assert grams_of(found)["mayonnaise"] == 83.0
    assert [amount.food for amount in found.amounts if amount.moved] == ["mayonnaise"]


@pytest.mark.parametrize("line", ["mayonnaise", "sour-cream"])
def test_a_lock_keeps_a_line_to_the_letter(line: str) -> None:
    found, grams = lean(BatchHold(), LineHold(line=line, tolerance=0.0))
    assert grams[line] == CREAMY.line(line).grams
    assert any(amount.moved for amount in found.amounts)


def test_a_role_keeps_its_mass() -> None:
    _, without = lean(BatchHold())
    assert without["mayonnaise"] < 110 * 0.85
    _, grams = lean(BatchHold(), RoleHold(role="fat", tolerance=0.15))
    assert 110 * 0.85 - 1e-9 <= grams["mayonnaise"] <= 110 * 1.15


def test_a_hold_the_goals_press_against_is_met_exactly_at_its_limit() -> None:
    found, _ = lean(BatchHold(), RoleHold(role="fat", tolerance=0.15))
    assert found.exact[2] == pytest.approx(110 * 0.85)

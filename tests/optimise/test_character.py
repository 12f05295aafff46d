"""Holds on character: each property per 100 g of finished food is kept, and counts in a conflict."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import (
    CHARACTER,
    QUANTITY_INDEX,
    BadInput,
    BatchHold,
    Brief,
    CharacterHold,
    Goal,
    Per,
    Recipe,
    Status,
    Swap,
    find_conflict,
)
from reformulate.optimise.items import collect_items
from reformulate.optimise.members import members_of
from reformulate.optimise.model import build_model
from reformulate.optimise.rows import LEAST_CHARACTER
from tests.optimise.dips import PAIR, closest
from tests.optimise.plain_rules import (
    LITTLE,
    finished,
    finished_of_each,
    quantity_of_each,
    sum_of,
    write_rules,
)
from tests.optimise.plain_solvers import least_change
from tests.optimise.rule_cases import character_cases
from tests.optimise.test_conflict_reason import can_be_kept
from tests.recipes.plain_sums import FOODS
from tests.strategies import Case, cases, weighed

CREAM, YOGURT = "sour-cream", "yogurt-strained-nonfat"


def per_100g(recipe: Recipe, brief: Brief, grams: list[float], quality: str) -> float:
    """A property of the finished dish, summed in plain loops."""
    each = quantity_of_each(recipe, brief, quality)
    kept = finished_of_each(recipe, brief)
    whole = sum(c * g for c, g in zip(kept, grams, strict=True))
    return 100 * sum(c * g for c, g in zip(each, grams, strict=True)) / whole


def original_of(recipe: Recipe, brief: Brief, quality: str) -> float:
    return 100 * sum_of(recipe, brief, quality) / finished(recipe, brief)


def test_the_properties_and_what_little_of_them_is_are_those_the_program_has() -> None:
    assert [kind.key for kind in CHARACTER] == list(LITTLE)
    assert dict(LEAST_CHARACTER) == LITTLE


@given(character_cases())
def test_the_amounts_shown_keep_every_property_that_is_held(case: Case) -> None:
    recipe, brief = case.recipe, case.brief
    found = closest(recipe, brief)
    assert found.status is Status.OPTIMAL
    assert found.certificate.holds
    for hold in brief.holds:
        if not isinstance(hold, CharacterHold):
            continue
        now = per_100g(recipe, brief, found.grams.tolist(), hold.quality)
        before = original_of(recipe, brief, hold.quality)
        dust = 1e-6 * max(before, now)
        if hold.tolerance is not None:
            assert abs(now - before) <= hold.tolerance * before + dust
        assert hold.at_least is None or now >= hold.at_least - dust
        assert hold.at_most is None or now <= hold.at_most + dust
        assert found.achieved.per_100g[QUANTITY_INDEX[hold.quality]] == pytest.approx(
            now, rel=1e-9, abs=1e-9
        )


@given(character_cases())
def test_no_amounts_that_keep_it_are_closer(case: Case) -> None:
    found = closest(case.recipe, case.brief)
    rules = write_rules(case.recipe, case.brief)
    least = least_change(rules.musts)
    assert least is not None
    assert rules.worst(found.exact.tolist()) <= 1e-7
    assert rules.musts.changes(found.exact) == pytest.approx(least, rel=1e-6, abs=1e-6)


@st.composite
def harsh_holds(draw: st.DrawFn) -> Case:
    """Briefs in which a property is to be far from the original's, or near it beside far goals."""
    case = draw(cases(most_lines=8, most_swaps=3, most_goals=2))
    recipe, brief = case.recipe, case.brief
    holds = []
    for quality in draw(
        st.lists(st.sampled_from(sorted(LITTLE)), min_size=1, max_size=2, unique=True)
    ):
        now = original_of(recipe, brief, quality)
        low, high = draw(
            st.sampled_from([(None, 0.1), (None, 0.6), (1.5, None), (4.0, None), (0.99, 1.01)])
        )
        if now < 0.01 or (low and high):
            holds.append(CharacterHold(quality=quality, tolerance=0.01))
        else:
            holds.append(
                CharacterHold(
                    quality=quality,
                    at_least=None if low is None else low * now,
                    at_most=None if high is None else high * now,
                    tolerance=draw(st.sampled_from([None, 1.0])) if high else None,
                )
            )
    return Case(recipe, replace(brief, holds=(*brief.holds, *holds)), None)


@given(harsh_holds())
def test_holds_on_character_that_conflict_are_a_smallest_reason_and_each_way_out_leads_out(
    case: Case,
) -> None:
    recipe, brief = case.recipe, case.brief
    found = find_conflict(weighed(recipe), brief, FOODS)
    status = closest(recipe, brief).status
    assert (status is Status.OPTIMAL) == (found is None)
    assert (least_change(write_rules(recipe, brief).musts) is not None) == (found is None)
    if found is None:
        return
    model = build_model(collect_items(weighed(recipe), brief, FOODS), brief, recipe)
    others = tuple(m for m in members_of(model, brief) if m not in found.members)
    assert not can_be_kept(recipe, brief, others)
    for member in found.members:
        assert can_be_kept(recipe, brief, (*others, member)), member.words
    for way in found.ways_out:
        assert closest(recipe, way.brief).status is Status.OPTIMAL, way.words
        assert least_change(write_rules(recipe, way.brief).musts) is not None


def test_richness_held_by_hand() -> None:
    # 19.35 and 0.39 g of fat per 100 g (NDB 01056 and 01256, SR28), 200 and 100 g: 13.03 a 100 g.
    before = (2 * 19.35 + 0.39) / 3
    held = (BatchHold(tolerance=0.0), CharacterHold(quality="richness", tolerance=0.1))
    lean = Goal(nutrient="energy_kcal", at_most=105.0)
    found = closest(PAIR, Brief(goals=(lean,), holds=held))
    # 105 kcal leave 1.98 s + 0.59 (300 - s) = 420, s = 174.8; richness leaves s >= 179.4 or so.
    least = (0.9 * before - 0.39) / (19.35 - 0.39) * 300
    assert found.status is Status.CONFLICT
    assert found.exact[0] == pytest.approx(least, abs=1e-6)
    looser = replace(held[1], tolerance=0.2)
    assert closest(PAIR, Brief(goals=(lean,), holds=(held[0], looser))).status is Status.OPTIMAL


def test_the_reason_and_the_ways_out_in_a_cooks_words() -> None:
    held = (BatchHold(tolerance=0.0), CharacterHold(quality="richness", tolerance=0.1))
    brief = Brief(goals=(Goal(nutrient="energy_kcal", at_most=105.0),), holds=held)
    found = find_conflict(weighed(PAIR), brief, FOODS)
    assert found is not None
    assert [member.words for member in found.members] == [
        "batch size within ± 0 %",
        "richness within ± 10 %",
        "energy at most 105 kcal per serving",
    ]
    # With 174.82 g of cream the dish has 11.43 g of fat per 100 g; the ceiling stays 14.333 g.
    # With 179.38 g it has 106.6 kcal a serving.
    s = 243 / 1.39
    rich = (0.1935 * s + 0.0039 * (300 - s)) / 3
    assert int(rich * 100) == 1143
    ways = [way.words for way in found.ways_out]
    assert ways[1:] == [
        "richness at least 11.43 g per 100 g, at most 14.333 g per 100 g",
        "energy at most 107 kcal per serving",
    ]
    for way in found.ways_out:
        assert closest(PAIR, way.brief).status is Status.OPTIMAL


def test_a_band_and_a_tolerance_hold_together() -> None:
    # Richness is 13.03 g: within 50 % is 6.5 to 19.5 g, the band narrows that to 10 g.
    hold = CharacterHold(quality="richness", tolerance=0.5, at_most=10.0)
    found = closest(PAIR, Brief(holds=(BatchHold(tolerance=0.0), hold)))
    assert found.status is Status.OPTIMAL
    assert found.exact[0] == pytest.approx((10 - 0.39) / (19.35 - 0.39) * 300, abs=1e-6)


def test_a_swap_counts_for_the_character_it_brings() -> None:
    swap = Swap(food=YOGURT, stands_in_for=(CREAM,))
    recipe = replace(PAIR, lines=PAIR.lines[:1])
    hold = CharacterHold(quality="richness", at_most=10.0)
    found = closest(recipe, Brief(holds=(BatchHold(tolerance=0.0), hold), swaps=(swap,)))
    assert found.exact[0] == pytest.approx((10 - 0.39) / (19.35 - 0.39) * 200, abs=1e-6)


@pytest.mark.parametrize(
    ("hold", "said"),
    [
        (CharacterHold(quality="crunch", tolerance=0.1), "found 'crunch'"),
        (CharacterHold(quality="body"), "holds nothing"),
        (CharacterHold(quality="body", tolerance=1.5), "Expected a fraction from 0 to 1"),
        (CharacterHold(quality="body", at_least=3.0, at_most=2.0), "at least 3 and at most 2"),
    ],
)
def test_a_hold_that_says_nothing_sensible_is_refused(hold: CharacterHold, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        closest(PAIR, Brief(holds=(hold,)))


def test_a_goal_on_a_property_is_a_goal_like_any_other() -> None:
    goal = Goal(nutrient="richness", at_most=10.0, per=Per.HUNDRED_GRAMS)
    found = closest(PAIR, Brief(goals=(goal,), holds=(BatchHold(tolerance=0.0),)))
    assert found.exact[0] == pytest.approx((10 - 0.39) / (19.35 - 0.39) * 300, abs=1e-6)
    assert found.goals[0].met

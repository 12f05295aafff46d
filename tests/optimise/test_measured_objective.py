"""The measured answer written out a second time and solved by SciPy: amounts, musts and what each costs."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from reformulate import (
    Answer,
    Brief,
    Goal,
    Household,
    Optimiser,
    Per,
    Status,
    measured_answer,
    parse_amount,
    read_document,
    weigh_recipe,
)
from reformulate.measures import Amount, measurable
from tests.optimise.plain_rules import PlainRules, write_rules
from tests.optimise.test_measured_demo import ENERGY, FOODS, RECIPES, SET, US, exact_with

SCOOP, FINE, LEFT_ALONE, NEW_SWAP = 0.03, 0.06, 0.02, 0.5
NEAR, FAR = 0.6, 3.0
KEY = "energy_kcal"
FEW = 1e-3
"""Less is nothing, and no change [g]."""


def is_fine(amount: Amount) -> bool:
    """Whether the last of several measures is lost in the others, or an eighth of a teaspoon."""
    volumes = [float(term.quantity) * dict(US.millilitres)[term.unit] for term in amount.terms]
    last = amount.terms[-1]
    eighth = (last.quantity, last.unit) == (Fraction(1, 8), "tsp")
    return len(volumes) > 1 and (volumes[-1] < 0.05 * sum(volumes) or eighth)


def cost(answer: Answer, rules: PlainRules, i: int, grams: float, one: Household | None) -> float:
    now, before, unit = float(answer.exact[i]), rules.musts.start[i], rules.musts.unit[i]
    total = abs(grams - now) / unit
    if one is not None:
        fine = (one.scoops and is_fine(one.amount)) or grams < 0.05 * unit
        total += SCOOP * one.scoops + (FINE if fine else 0.0)
    if abs(now - before) <= FEW < abs(grams - before):
        total += LEFT_ALONE if i < rules.musts.lines else NEW_SWAP
    return total


def options(
    answer: Answer, rules: PlainRules, i: int, far: float
) -> list[tuple[float, Household | None]]:
    """As written, nothing, and what can be measured no more of the item's unit off than ``far``."""
    item, now, before = answer.amounts[i], float(answer.exact[i]), rules.musts.start[i]
    low, high = rules.musts.bounds[i]
    found: list[tuple[float, Household | None]] = []
    if item.line is not None and low <= before <= high:
        found.append((before, None))
        if low == high:
            return found
    width = far * max(rules.musts.unit[i], now)
    least = 0.0 if item.line is not None else rules.least[i - rules.musts.lines]
    ends = max(now - width, least, low, FEW), min(now + width, high)
    if ends[0] <= ends[1]:
        like = parse_amount(item.line.amount) if item.line and item.line.amount else None
        prep = item.line.prep if item.line else ""
        found += [(h.grams, h) for h in measurable(*ends, item.measures, US, like, prep=prep)]
    if low <= 0.0 and (item.line is None or now <= width):
        found.append((0.0, None))
    return found


def least_cost(answer: Answer, rules: PlainRules, far: float) -> float | None:
    """What the cheapest choice that keeps every must costs; None where none does."""
    n = len(rules.musts.start)
    each = [options(answer, rules, i, far) for i in range(n)]
    whose = np.repeat(np.arange(n), [len(some) for some in each])
    grams = np.array([mass for some in each for mass, _ in some])
    costs = [cost(answer, rules, i, mass, one) for i in range(n) for mass, one in each[i]]
    once = (np.arange(n)[:, None] == whose).astype(float)
    used = ((whose >= rules.musts.lines) & (grams > 0)).astype(float)
    limits = [LinearConstraint(once, 1, 1), LinearConstraint(used[None], 0, rules.most_used)]
    for row in rules.musts.rows:
        terms = np.array(row.coefficients)[whose] * grams
        largest = np.abs(terms).max()
        limits.append(
            LinearConstraint(terms[None] / largest, row.low / largest, row.high / largest)
        )
    found = milp(
        costs, constraints=limits, integrality=1, bounds=Bounds(0, 1), options={"mip_rel_gap": 0}
    )
    assert found.status in (0, 2), found.message
    return float(found.fun) if found.status == 0 else None


def check(name: str, brief: Brief) -> Answer:
    """Compare the measured answer with SciPy's; return it."""
    batch = weigh_recipe(read_document(SET / f"{name}.toml").recipe, FOODS, US)
    answer = Optimiser(batch, brief, FOODS).answer(brief)
    if answer.status is Status.CONFLICT:  # the objective is then what gives: see `test_choice`
        found = measured_answer(answer, US)
        assert found.status is Status.CONFLICT
        assert any(not result.met for result in found.goals)
        return found
    lines = tuple(
        replace(line, grams=mass)
        for line, mass in zip(batch.recipe.lines, batch.grams.tolist(), strict=True)
    )
    rules = write_rules(replace(batch.recipe, lines=lines), brief)
    expected = least_cost(answer, rules, NEAR)
    if expected is None:
        expected = least_cost(answer, rules, FAR)
    found = measured_answer(answer, US)
    assert found.measured is not None
    assert found.measured.proven
    assert bool(found.measured.in_the_way) is (expected is None)
    if expected is not None:
        chosen = zip(found.grams.tolist(), found.measured.amounts, strict=True)
        total = sum(cost(answer, rules, i, mass, one) for i, (mass, one) in enumerate(chosen))
        assert total == pytest.approx(expected, abs=1e-6)
    return found


@pytest.mark.parametrize("share", [None, 0.9, 0.8, 0.7])
@pytest.mark.parametrize("name", RECIPES)
def test_no_measured_amounts_cost_less_says_scipy(name: str, share: float | None) -> None:
    brief = read_document(SET / f"{name}.toml").brief
    if share is not None:
        energy = float(exact_with(name, bare=True).original.per_serving[ENERGY])
        brief = replace(brief, goals=(Goal(nutrient=KEY, at_most=round(energy * share)),))
    check(name, brief)


def test_a_must_that_amounts_further_off_keep_does_not_give_way() -> None:
    name, per = "spiced-pumpkin-dip", Per.HUNDRED_GRAMS
    goals = (Goal(nutrient="sodium_mg", at_most=137.32, per=per), Goal(nutrient=KEY, at_most=95.88))
    brief = replace(read_document(SET / f"{name}.toml").brief, max_swaps=2, goals=goals)
    found = check(name, brief)
    assert found.status is Status.OPTIMAL
    assert all(result.met for result in found.goals)

"""Faults planted into clean recipes are found: how many of each kind, in 30 variants each.

``python -m tests.recipes.test_review_seeded [SEED]`` prints the share found by kind, and what was missed.
"""

from __future__ import annotations

import random
import sys

import pytest

from reformulate.errors import BadInput
from reformulate.recipes.review import Finding, review
from tests.recipes.planting import ANYWHERE, US, Plant, Planted, weighed
from tests.recipes.plants_in_lines import (
    disagreeing,
    drained_or_not,
    left_out,
    listed_twice,
    not_in_the_list,
    not_in_the_steps,
    odd_count_in_the_source,
    odd_unit,
    swapped_figures,
    taken_out_of_the_steps,
    twice_the_figure,
)
from tests.recipes.plants_in_the_dish import (
    claims_for_other_servings,
    more_oil,
    more_salt,
    odd_moisture,
    odd_portion,
    oil_without_amount,
    salt_in_the_steps,
    salt_to_taste,
    wrong_claim,
    wrong_sum,
)
from tests.recipes.test_review_clean import DEMO, FOODS

VARIANTS = 30

# What is asked of each in 30 variants; the rest is what a fair reader may take either way.
PLANTS: dict[Plant, float] = {
    disagreeing: 0.9,
    twice_the_figure: 0.9,
    swapped_figures: 0.95,
    not_in_the_list: 0.9,
    not_in_the_steps: 0.95,
    taken_out_of_the_steps: 0.9,
    wrong_claim: 0.95,
    claims_for_other_servings: 0.95,
    wrong_sum: 0.95,
    odd_portion: 0.95,
    odd_unit: 0.95,
    odd_count_in_the_source: 0.95,
    salt_to_taste: 0.95,
    salt_in_the_steps: 0.95,
    more_salt: 0.95,
    more_oil: 0.95,
    oil_without_amount: 0.95,
    drained_or_not: 0.95,
    listed_twice: 0.95,
    odd_moisture: 0.95,
    left_out: 0.95,
}


def variants(plant: Plant, seed: int = 0) -> list[Planted]:
    """Thirty recipes with a fault, drawn from the demo recipes."""
    rng = random.Random(f"{plant.__name__}-{seed}")  # noqa: S311 - drawing recipes, no secrets
    found: list[Planted] = []
    for _ in range(2000):
        if len(found) == VARIANTS:
            break
        planted = plant(rng.choice(DEMO), rng)
        if planted is None:
            continue
        try:
            weighed(planted.recipe)
        except BadInput:
            continue
        found.append(planted)
    assert len(found) == VARIANTS
    return found


def reviewed(planted: Planted) -> tuple[Finding, ...]:
    batch = weighed(planted.recipe)
    return review(batch, FOODS, US, texts=planted.texts, claims=planted.claims)


def is_found(planted: Planted, finding: Finding) -> bool:
    return finding.kind in planted.kinds and planted.where in (ANYWHERE, finding.where)


def share_found(
    plant: Plant, seed: int = 0
) -> tuple[float, list[tuple[Planted, tuple[Finding, ...]]]]:
    """Return the share of variants whose fault is found, and those whose is not."""
    missed = []
    for planted in variants(plant, seed):
        found = reviewed(planted)
        if not any(is_found(planted, finding) for finding in found):
            missed.append((planted, found))
    return 1 - len(missed) / VARIANTS, missed


@pytest.mark.parametrize("plant", PLANTS, ids=lambda plant: plant.__name__)
def test_a_planted_fault_is_found(plant: Plant) -> None:
    share, missed = share_found(plant)
    assert share >= PLANTS[plant], [
        (planted.recipe.title, planted.where, dict(planted.texts)) for planted, _ in missed
    ]


def report(seed: int) -> None:
    """Print the share found of each kind of fault, and what was missed."""
    for plant in PLANTS:
        share, missed = share_found(plant, seed)
        print(f"{plant.__name__:28} {share:5.0%}")  # noqa: T201
        for planted, found in missed:
            said = "; ".join(str(finding) for finding in found) or "nothing"
            print(f"    {planted.recipe.title}, {planted.where}, {dict(planted.texts)}: {said}")  # noqa: T201


if __name__ == "__main__":
    report(int(sys.argv[1]) if len(sys.argv) > 1 else 0)

"""Every program with a published optimum."""

from __future__ import annotations

from tests.published.blends_and_diets import BLENDS_AND_DIETS
from tests.published.classic_programs import CLASSICS
from tests.published.programs import Published
from tests.published.stigler import stigler

STIGLER = Published(
    name="Stigler diet, a year",
    source="Stigler 1945; 39.66 dollars a year by modern solvers, 39.69 by Laderman in 1947 by "
    "hand, 39.93 by Stigler's own trials",
    data="read",
    answer="from memory",
    program=stigler(),
    objective=39.66173155,
    scale=365.0,
    known_duals={0: 3.1993, 1: 0, 2: 11.5843, 3: 0, 4: 0.1461, 5: 0, 6: 5.9707, 7: 0, 8: 0.0526},
    digits=1e-9,
    dual_within=6e-5,
)
ALL = (*BLENDS_AND_DIETS, *CLASSICS, STIGLER)

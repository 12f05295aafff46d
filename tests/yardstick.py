"""How long work takes against other work of the same run: no clock of a machine enters."""

from __future__ import annotations

import time
from collections.abc import Callable


def seconds(work: Callable[[], object], rounds: int = 1) -> float:
    """Return the processor time of the quickest of some rounds [s]."""

    def once() -> float:
        started = time.process_time()
        work()
        return time.process_time() - started

    return min(once() for _ in range(rounds))


def expect_bounded(work: Callable[[], object], times: float, plain: Callable[[], object]) -> None:
    """Fail if ``work`` takes more than ``times`` as long as what is ``plain``.

    Work with the square of the length takes thousands of times as long; a busy machine slows both.
    """
    bound = times * seconds(plain, rounds=3)
    assert seconds(work) < bound or seconds(work) < bound

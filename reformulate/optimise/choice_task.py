"""What a search for a choice works on: the options of all items side by side, and the limits."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int_]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Task:
    """Take one option for each of n items so that cost and what is missed are together least.

    All N options stand side by side, those of one item together and by rising grams.
    """

    first: IntArray
    """(n,) where the options of each item begin [index]."""
    item: IntArray
    """(N,) whose option each is [index]."""
    grams: FloatArray
    """(N,) [g]."""
    cost: FloatArray
    """(N,) [1]."""
    guide: FloatArray
    """(N,) where costs and misses tell nothing apart, less of this comes first [1]."""
    adds: FloatArray
    """(m, N) what each option adds to each row [row unit]."""
    lower: FloatArray
    """(m,) least of each row [row unit], -inf for none."""
    upper: FloatArray
    """(m,) most of each row [row unit], inf for none."""
    price: FloatArray
    """(m,) cost of missing a limit [1 per row unit]; inf where it must not be missed."""
    shares: FloatArray
    """(b, m) what a row's miss counts for in each of b sums of misses [1 per row unit]."""
    most: FloatArray
    """(b,) the most each sum may come to [1]."""

    @property
    def musts(self) -> NDArray[np.bool_]:
        """(m,) the rows that must not be missed."""
        return np.isinf(self.price)

    def missed(self, low: FloatArray, high: FloatArray) -> FloatArray:
        """Return how far rows between ``low`` and ``high`` (m, s) miss their limits at least (m, s)."""
        short, over = self.lower[:, None] - high, low - self.upper[:, None]
        missed: FloatArray = np.maximum(np.maximum(short, over), 0.0)
        return missed

    def allows(self, missed: FloatArray) -> NDArray[np.bool_]:
        """Return which misses (m, s) are none of a must, nor too much together (s,)."""
        allowed = np.asarray(~missed[self.musts].any(axis=0))
        if len(self.most):
            allowed &= (self.shares @ missed <= self.most[:, None]).all(axis=0)
        return allowed

    def value(self, pick: IntArray) -> float:
        """Return what a choice costs, misses included; inf where it is not allowed [1]."""
        at = self.first + pick
        sums = self.adds[:, at].sum(axis=1)[:, None]
        missed, soft = self.missed(sums, sums), ~self.musts
        if not self.allows(missed)[0]:
            return np.inf
        return float(self.cost[at].sum() + self.price[soft] @ missed[soft, 0])

    def dearest(self) -> float:
        """Return what no choice that misses no must can cost more than [1]."""
        high = np.maximum.reduceat(self.adds, self.first, axis=1).sum(axis=1)[:, None]
        low = np.minimum.reduceat(self.adds, self.first, axis=1).sum(axis=1)[:, None]
        # The ends crossed: the most that can be missed, not the least.
        missed = self.missed(high, low)[:, 0]
        soft = ~self.musts
        dearest = np.maximum.reduceat(self.cost, self.first).sum()
        return float(dearest + self.price[soft] @ missed[soft])

"""The exact trade-off curve of two objectives: every extreme point of the efficient set."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array, eye_array, hstack, vstack

from reformulate.errors import ReformulateError
from reformulate.optimise.engine import Engine, Outcome, Solution, SolverStopped
from reformulate.optimise.program import LinearProgram, linear_program

FloatArray = NDArray[np.float64]
Prices = tuple[FloatArray, FloatArray]
Stop = Callable[[], bool]

EXACT = 1e-9
"""How near the curve a point counts as on it [fraction of the range of each objective]."""

NOISE = 1e-10
"""The same where an objective hardly varies [fraction of the objective's size]."""

NO_RANGE = 1e-7
"""Up to this range two objectives are not in conflict [fraction of an objective's size]."""

ZERO_PRICE = 1e-11
"""Up to this a price counts as zero where a face is pinned [largest coefficient of the cost].

The price of moving along a flat edge is small, and yet not none; a price of nothing comes out of
the solver below 1e-13."""

LEAST_SHARE = 1e-9
"""Up to this the share of one unit in the whole counts as none: the dish has no end [1]."""


class Unbounded(ReformulateError):  # noqa: N818 - named for what is so
    """Nothing limits one of the objectives, so that the curve has no end; ``objective`` says which."""

    def __init__(self, objective: int) -> None:
        self.objective = objective
        """0 for the first, 1 for the second."""
        which = ("first", "second")[objective]
        super().__init__(
            f"Trade-off curve: the {which} quantity gets better without end. "
            "Hold the batch, or set a goal that limits it."
        )

    def __reduce__(self) -> tuple[type[Unbounded], tuple[int]]:
        return type(self), (self.objective,)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Vertex:
    """An extreme point of the efficient set: neither objective gets better but at the other's cost."""

    x: FloatArray
    """(n,) amounts that attain it [column unit]."""
    first: float
    """[unit of the first objective]."""
    second: float
    """[unit of the second objective]."""


def efficient_vertices(
    program: LinearProgram,
    first: FloatArray,
    second: FloatArray,
    *,
    tie_break: FloatArray | None = None,
    stop: Stop | None = None,
) -> tuple[Vertex, ...]:
    """Return all extreme points of the efficient set of ``min (first @ x, second @ x)``.

    The straight lines between neighbours are the rest of the set, so this is the whole curve.

    Parameters
    ----------
    program : LinearProgram
        Its limits are kept; its cost is not used.
    first, second : (n,) arrays
        What is to be small [objective unit per unit of the column]; negate what is to be great.
    tie_break : (n,) array, optional
        Of all x that attain a vertex, one where ``tie_break @ x`` is least is returned.
    stop : callable, optional
        Asked before each step; once it says True the search is given up.

    Returns
    -------
    tuple of Vertex
        By ``first`` ascending, and so ``second`` descending; empty where nothing keeps the limits,
        one where the objectives are not in conflict.

    Raises
    ------
    Unbounded
        If nothing limits an objective.
    SolverStopped
        If the solver proved nothing, or ``stop`` said True.

    Notes
    -----
    Each end is the least of one objective, and on its face the least of the other. Between two
    points, the normal of their chord weighs the objectives: what lies below the chord is found, or
    proven not to be there. Source: Y. P. Aneja and K. P. K. Nair, Bicriteria transportation
    problem, Management Science 25 (1979); from memory.
    """
    objectives = np.array([first, second], dtype=float)
    search = _Search(program, objectives, stop)

    def amounts(x: FloatArray, weights: FloatArray) -> Iterator[FloatArray]:
        if tie_break is not None:
            found = search.face.least(program, tie_break, search.prices(weights))
            if found.outcome is Outcome.OPTIMAL:
                yield found.x
        yield x

    return _vertices(search, amounts, lambda x: objectives @ x)


def efficient_ratio_vertices(
    program: LinearProgram,
    first: FloatArray,
    first_start: float,
    second: FloatArray,
    second_start: float,
    whole: FloatArray,
    whole_start: float,
    *,
    tie_break: FloatArray | None = None,
    stop: Stop | None = None,
) -> tuple[Vertex, ...]:
    """Return the same for two ratios with one denominator, such as two amounts per 100 g.

    The ratios are ``(first @ x + first_start) / (whole @ x + whole_start)`` and the same of
    ``second``; only x with a denominator above 0 count. All else is as in `efficient_vertices`.
    ``Unbounded`` is also raised where only a dish without end comes near a vertex. Where the
    tie-break likes no dish at all best, the denominator stays ``whole_start`` if it can.

    Source: A. Charnes and W. W. Cooper, Programming with linear fractional functionals, Naval
    Research Logistics Quarterly 9 (1962): scale x by t so that the denominator is 1.
    """
    n = len(program.columns)
    ends = np.array([[*first, first_start], [*second, second_start], [*whole, whole_start]])
    scale = float(np.abs(ends[2]).max()) or 1.0
    scaled = _Homogeneous(program, ends[2] / scale)
    search = _Search(scaled.program, ends[:2] / scale, stop)
    free, kept = (_with_row(program, ends[2, :n] / scale, most) for most in (np.inf, 0.0))
    face, nothing = _Face(free), np.zeros(n)
    if face.least(free, nothing).outcome is Outcome.INFEASIBLE:
        return ()  # the scaled program may still have directions, which are no dishes

    def amounts(z: FloatArray, weights: FloatArray) -> Iterator[FloatArray]:
        if tie_break is not None or z[n] <= LEAST_SHARE:
            prices = scaled.prices(*search.prices(weights))
            for limits in (free, kept):
                found = face.least(limits, nothing if tie_break is None else tie_break, prices)
                if found.outcome is Outcome.OPTIMAL and (
                    ends[2] @ np.append(found.x, 1.0) > LEAST_SHARE * scale
                ):
                    yield found.x
        if z[n] > LEAST_SHARE:
            yield z[:n] / z[n]

    def ratios(x: FloatArray) -> FloatArray:
        values: FloatArray = ends @ np.append(x, 1.0)
        pair: FloatArray = values[:2] / values[2]
        return pair

    return _vertices(search, amounts, ratios)


def knee(vertices: Sequence[Vertex]) -> int | None:
    """Return which vertex is farthest from the straight line between the ends.

    Both objectives are counted in units of their range. The first of several as far; None with
    fewer than three vertices.
    """
    if len(vertices) < 3:
        return None
    at = np.array([(vertex.first, vertex.second) for vertex in vertices])
    low, high = at.min(axis=0), at.max(axis=0)
    depth = 1.0 - ((at - low) / (high - low)).sum(axis=1)
    return int(np.argmax(depth >= depth.max() - EXACT))


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class _Point:
    x: FloatArray
    """(n,) [column unit]."""
    at: FloatArray
    """(2,) both objectives [objective units]."""


class _Face:
    """A program in a solver of its own, to be pinned to optimal faces of another."""

    def __init__(self, program: LinearProgram) -> None:
        self._engine = Engine(program)
        self._rows = np.arange(len(program.rows), dtype=np.int32)

    def least(
        self, limits: LinearProgram, cost: FloatArray, prices: Prices | None = None
    ) -> Solution:
        """Minimise where each limit with a price is kept exactly: complementary slackness."""
        rows = limits.row_lower, limits.row_upper
        columns = limits.column_lower, limits.column_upper
        if prices is not None:
            rows, columns = _pin(*rows, prices[0]), _pin(*columns, prices[1])
        self._engine.set_row_limits(self._rows, *rows)
        self._engine.set_column_limits(*columns)
        self._engine.set_cost(cost)
        return self._engine.solve()


class _Search:
    """Two objectives over one program, in a warm solver that is told another cost each time."""

    def __init__(self, program: LinearProgram, objectives: FloatArray, stop: Stop | None) -> None:
        self._program, self._objectives, self._stop = program, objectives, stop
        self._engine = Engine(program)
        self.face = _Face(program)
        self.range = np.ones(2)
        """(2,) of each objective between the ends [objective units]."""
        self.tolerance = np.full(2, EXACT)
        """(2,) how near a point counts as the same [range]."""

    def prices(self, weights: FloatArray) -> Prices:
        """Return the prices of rows (m,) and columns (n,) where the weighted sum is least."""
        found = self._least(weights)
        if found is None:
            raise SolverStopped("The solver lost a vertex that it had found.")
        return self._prices(found, weights)

    def corners(self) -> list[tuple[_Point, FloatArray]]:
        """Return all corners from end to end, each with weights (2,) for which it alone is best."""
        left, right = self._end(0), self._end(1)
        if left is None or right is None:
            return []
        size = np.abs(self._objectives).max(axis=1, initial=0.0)
        for end in (left, right):
            size = np.maximum(size, np.abs(self._objectives * end.x).sum(axis=1))
        self.range = (right.at - left.at) * (1.0, -1.0)
        if np.any(self.range <= NO_RANGE * size):
            self.range = np.where(size > 0.0, size, 1.0)
            single = self._lowest(1.0 / self.range)
            return [(single, 1.0 / self.range)] if single else []
        self.tolerance = EXACT + NOISE * size / self.range
        return self._as_corners(self._between(left, right))

    def _end(self, objective: int) -> _Point | None:
        """Return where one objective is least, and of all such points the other."""
        weights = np.eye(2)[objective]
        found = self._least(weights)
        if found is None:
            return None
        other = _unit(self._objectives[1 - objective])
        best = self.face.least(self._program, other, self._prices(found, weights))
        return self._point(best.x if best.outcome is Outcome.OPTIMAL else found.x)

    def _between(self, left: _Point, right: _Point) -> list[_Point]:
        """Return points from left to right, every corner among them."""
        points, waiting = [left], [(left, right)]
        while waiting:
            left, right = waiting.pop()
            run = np.abs(right.at - left.at) / self.range
            found = None if np.any(run <= self.tolerance) else self._lowest(run[::-1] / self.range)
            if found is not None and self._is_below(found, left, right):
                waiting += [(found, right), (left, found)]
            else:
                points.append(right)
        return points

    def _is_below(self, point: _Point, left: _Point, right: _Point) -> bool:
        normal = np.abs(right.at - left.at)[::-1] / self.range[::-1]
        return bool(normal @ ((left.at - point.at) / self.range - self.tolerance) > 0.0)

    def _as_corners(self, points: list[_Point]) -> list[tuple[_Point, FloatArray]]:
        """Drop ends that the next point is as good as, and what lies on the chord of two others."""
        near = self.tolerance * self.range
        while len(points) > 1 and points[1].at[0] - points[0].at[0] <= near[0]:
            points = points[1:]
        while len(points) > 1 and points[-2].at[1] - points[-1].at[1] <= near[1]:
            points = points[:-1]
        kept = [0]
        for i in range(1, len(points) - 1):
            passed = points[kept[-1] + 1 : i + 1]
            if any(self._is_below(p, points[kept[-1]], points[i + 1]) for p in passed):
                kept.append(i)
        kept += [len(points) - 1] * (len(points) > 1)
        corners = [points[i] for i in kept]
        scaled = np.array([corner.at for corner in corners]) / self.range
        normals = np.abs(np.diff(scaled, axis=0))[:, ::-1]
        normals /= np.hypot(normals[:, :1], normals[:, 1:])
        around = np.vstack([[1.0, 0.0], normals, [0.0, 1.0]])
        return list(zip(corners, (around[:-1] + around[1:]) / self.range, strict=True))

    def _lowest(self, weights: FloatArray) -> _Point | None:
        found = self._least(weights)
        return None if found is None else self._point(found.x)

    def _least(self, weights: FloatArray) -> Solution | None:
        """Minimise the weighted sum; None where nothing keeps the limits."""
        if self._stop is not None and self._stop():
            raise SolverStopped("The trade-off curve was given up before it was whole.")
        self._engine.set_cost(_unit(weights @ self._objectives))
        found = self._engine.solve()
        if found.outcome is Outcome.UNBOUNDED:
            raise Unbounded(int(np.argmax(weights)))
        return found if found.outcome is Outcome.OPTIMAL else None

    def _prices(self, found: Solution, weights: FloatArray) -> Prices:
        program = replace(self._program, cost=_unit(weights @ self._objectives))
        return found.row_duals, program.reduced_cost(found.row_duals)

    def _point(self, x: FloatArray) -> _Point:
        return _Point(x=x, at=self._objectives @ x)


class _Homogeneous:
    """A program in z = t x and t, where a given sum of both is 1 and t is not negative."""

    def __init__(self, program: LinearProgram, one: FloatArray) -> None:
        self._shape = (len(program.rows), len(program.columns))
        m, n = self._shape
        matrix = vstack([program.matrix, eye_array(n)]).tocsr()
        lower = np.concatenate([program.row_lower, program.column_lower])
        upper = np.concatenate([program.row_upper, program.column_upper])
        bounds = np.where(lower[m:] == 0.0, 0.0, -np.inf), np.where(upper[m:] == 0.0, 0.0, np.inf)
        lower[m:][lower[m:] == 0.0] = -np.inf  # a limit of 0 stays one of z, and needs no row
        upper[m:][upper[m:] == 0.0] = np.inf
        same = lower == upper
        low = np.flatnonzero(np.isfinite(lower))
        high = np.flatnonzero(np.isfinite(upper) & ~same)
        self._of = np.concatenate([low, high])
        """(rows,) which row, or m + which column, each row is a limit of."""
        limits = np.concatenate([lower[low], upper[high]])
        self.program = linear_program(
            np.zeros(n + 1),
            vstack([hstack([matrix[self._of], csc_array(-limits[:, None])]), one[None, :]]),
            np.concatenate([np.zeros(len(low)), np.full(len(high), -np.inf), [1.0]]),
            np.concatenate([np.where(same[low], 0.0, np.inf), np.zeros(len(high)), [1.0]]),
            column_lower=np.append(bounds[0], 0.0),
            column_upper=np.append(bounds[1], np.inf),
        )

    def prices(self, rows: FloatArray, columns: FloatArray) -> Prices:
        """Return the prices of the original's rows and a free one (m + 1,) and its columns (n,)."""
        m, n = self._shape
        prices = np.bincount(self._of, weights=rows[:-1], minlength=m + n)
        return np.append(prices[:m], 0.0), prices[m:] + columns[:n]


def _vertices(
    search: _Search,
    amounts: Callable[[FloatArray, FloatArray], Iterator[FloatArray]],
    evaluate: Callable[[FloatArray], FloatArray],
) -> tuple[Vertex, ...]:
    """Give each corner the first of its amounts that do attain it."""
    vertices = []
    for i, (corner, weights) in enumerate(search.corners()):
        for x in amounts(corner.x, weights):
            at = evaluate(x)
            if np.all(np.abs(at - corner.at) <= 10.0 * search.tolerance * search.range):
                vertices.append(Vertex(x=x, first=float(at[0]), second=float(at[1])))
                break
        else:
            raise Unbounded(min(i, 1))
    return tuple(vertices)


def _unit(cost: FloatArray) -> FloatArray:
    """Scale a cost so that its largest coefficient is 1, which the solver's tolerances are for."""
    scaled: FloatArray = cost / (np.abs(cost).max(initial=0.0) or 1.0)
    return scaled


def _pin(lower: FloatArray, upper: FloatArray, prices: FloatArray) -> tuple[FloatArray, FloatArray]:
    low = (prices > ZERO_PRICE) & np.isfinite(lower)
    high = (prices < -ZERO_PRICE) & np.isfinite(upper)
    return np.where(high, upper, lower), np.where(low, lower, upper)


def _with_row(program: LinearProgram, row: FloatArray, most: float) -> LinearProgram:
    """Add a row that strays from 0 by no more than ``most``."""
    return replace(
        program,
        rows=(*program.rows, "whole"),
        matrix=csc_array(vstack([program.matrix, row[None, :]])),
        row_lower=np.append(program.row_lower, -most),
        row_upper=np.append(program.row_upper, most),
    )

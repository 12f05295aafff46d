"""A brief as one scaled sparse program; MODEL.md tells the rules."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array

from reformulate.brief import Brief, Manner
from reformulate.optimise.items import Items
from reformulate.optimise.program import LinearProgram
from reformulate.optimise.rows import Row, change_rows, goal_rows, hold_rows, with_share
from reformulate.recipes import Recipe

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int_]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Model:
    """The items of a brief, its rows in grams, and the program in scaled columns.

    Columns are ``more`` (lines), ``less`` (lines), ``swap`` (swaps), then slack:
    grams of line i = original + scale * (more - less), grams of swap j = scale * swap.
    """

    recipe: Recipe
    items: Items
    rows: tuple[Row, ...]
    """(m,) goals first, then holds, then changes of character."""
    goal_count: int
    """How many of the rows are goals [count]."""
    row_scale: FloatArray
    """(m,) what each row in grams is divided by [row unit]."""
    gram_rows: FloatArray
    """(m, n_items) the rows per gram of each item [scaled row unit per g]."""
    start: FloatArray
    """(m,) the rows at the original, where all columns are 0 [scaled row unit]."""
    to_grams: FloatArray
    """(n_items, n_columns) grams per unit of each column [g]."""
    slack: FloatArray
    """(m, n_columns) what each slack column adds to each row [scaled row unit]."""
    levels: FloatArray
    """(l, n_columns) sums of slack [fraction of a size], made least one after the other before the manner;
    MODEL.md §4."""
    program: LinearProgram
    """Fewest changes: minimise the sum of relative changes; MODEL.md §4. Its last l rows are the
    levels, without a limit."""

    def grams(self, x: FloatArray) -> FloatArray:
        """Return the grams (n_items,) [g] of a column vector."""
        grams = self.items.original + self.to_grams @ x
        inside: FloatArray = np.minimum(np.maximum(grams, self.items.least), self.items.most)
        return inside

    def program_row(self, i: int) -> FloatArray:
        """Return the coefficients (n_columns,) of row ``i`` of the program."""
        row: FloatArray = self.gram_rows[i] @ self.to_grams + self.slack[i]
        return row

    @property
    def swap_columns(self) -> IntArray:
        """(swaps,) where the swaps stand among the columns [index]."""
        first = 2 * len(self.items.lines)
        return np.arange(first, first + len(self.items.swaps))


def build_model(items: Items, brief: Brief, recipe: Recipe) -> Model:
    """Build the model of a brief for a recipe: m rows and l levels; two columns a line, one a swap.

    Each row is divided by the largest of its scaled coefficients, so that a spoon of spice and a
    kilogram of base meet the solver at the same size. Each row of a wish has a slack column, each
    change of character two.
    """
    goals = goal_rows(brief, items, recipe)
    changes = change_rows(items) if brief.manner is Manner.CHARACTER else ()
    rows = (*goals, *hold_rows(brief, items, recipe), *changes)
    moves = _to_grams(items)
    shape = (len(rows), len(moves))
    gram_rows = np.array([row.coefficients for row in rows]).reshape(shape)
    by = np.array([row.top if row.limit_moves else row.coefficients for row in rows])
    row_scale = np.abs(by.reshape(shape) @ moves).max(axis=1, initial=0.0)
    row_scale[row_scale == 0.0] = 1.0
    gram_rows /= row_scale[:, None]
    start = gram_rows @ items.original
    lower, upper = _scaled_limits(rows, row_scale, start)
    column_lower, column_upper = _column_limits(items)
    names, slack, levels = _slack(rows, row_scale, moves.shape[1])
    extra = len(names)
    to_grams = np.hstack([moves, np.zeros((len(moves), extra))])
    return Model(
        recipe=recipe,
        items=items,
        rows=rows,
        goal_count=len(goals),
        row_scale=row_scale,
        gram_rows=gram_rows,
        start=start,
        to_grams=to_grams,
        slack=slack,
        levels=levels,
        program=LinearProgram(
            columns=(
                *(f"more {line.id}" for line in items.lines),
                *(f"less {line.id}" for line in items.lines),
                *(f"swap {swap.food}" for swap in items.swaps),
                *names,
            ),
            rows=(*(row.name for row in rows), *(f"level {i + 1}" for i in range(len(levels)))),
            cost=np.concatenate([np.ones(moves.shape[1]), np.zeros(extra)]),
            matrix=csc_array(np.vstack([gram_rows @ to_grams + slack, levels])),
            row_lower=np.append(lower, np.full(len(levels), -np.inf)),
            row_upper=np.append(upper, np.full(len(levels), np.inf)),
            column_lower=np.append(column_lower, np.zeros(extra)),
            column_upper=np.append(column_upper, np.full(extra, np.inf)),
        ),
    )


def _slack(
    rows: tuple[Row, ...], row_scale: FloatArray, moves: int
) -> tuple[tuple[str, ...], FloatArray, FloatArray]:
    """Give wishes and changes of character their slack, and each rank its level.

    Returns
    -------
    names : one a slack column
    slack : (m, moves + slack) [scaled row unit per fraction of the row's size]
    levels : (l, moves + slack) [fraction of a size]
    """
    columns: list[tuple[int, float, float, str]] = []  # row, sign, level, name
    for i, row in enumerate(rows):
        if row.rank:
            word = "short" if row.slack_sign > 0 else "over"
            columns.append((i, row.slack_sign, row.rank, f"{word} {row.name}"))
        elif row.quality:
            columns.append((i, 1.0, np.inf, f"less {row.quality}"))
            columns.append((i, -1.0, np.inf, f"more {row.quality}"))
    slack = np.zeros((len(rows), moves + len(columns)))
    ranks = sorted({rank for _, _, rank, _ in columns})
    levels = np.zeros((len(ranks), moves + len(columns)))
    for at, (i, sign, rank, _) in enumerate(columns, start=moves):
        slack[i, at] = sign * rows[i].size / row_scale[i]
        levels[ranks.index(rank), at] = 1.0
    return tuple(name for *_, name in columns), slack, levels


def with_limits(model: Model, brief: Brief, recipe: Recipe) -> Model:
    """Return the model with the goals' limits of ``brief``, scaling and every other row kept."""
    goals = goal_rows(brief, model.items, recipe, model.rows)
    rows = (*goals, *model.rows[len(goals) :])
    gram_rows, start, matrix = model.gram_rows, model.start, model.program.matrix
    shares = [i for i, row in enumerate(goals) if row.is_share]
    if shares:
        gram_rows = gram_rows.copy()
        for i in shares:
            gram_rows[i] = goals[i].coefficients / model.row_scale[i]
        start, matrix = gram_rows @ model.items.original, _matrix(model, gram_rows)
    lower, upper = _scaled_limits(rows, model.row_scale, start)
    free = len(model.levels)
    program = replace(
        model.program,
        matrix=matrix,
        row_lower=np.append(lower, np.full(free, -np.inf)),
        row_upper=np.append(upper, np.full(free, np.inf)),
    )
    return replace(model, rows=rows, gram_rows=gram_rows, start=start, program=program)


def _matrix(model: Model, gram_rows: FloatArray) -> csc_array:
    return csc_array(np.vstack([gram_rows @ model.to_grams + model.slack, model.levels]))


def with_share_limit(model: Model, i: int, limit: float) -> Model:
    """Return the model with another limit for the share in row ``i``, all else kept."""
    row = with_share(model.rows[i], limit)
    rows = (*model.rows[:i], row, *model.rows[i + 1 :])
    gram_rows = model.gram_rows.copy()
    gram_rows[i] = row.coefficients / model.row_scale[i]
    start = gram_rows @ model.items.original
    lower, upper = _scaled_limits(rows, model.row_scale, start)
    row_lower, row_upper = model.program.row_lower.copy(), model.program.row_upper.copy()
    row_lower[i], row_upper[i] = lower[i], upper[i]
    program = replace(
        model.program, matrix=_matrix(model, gram_rows), row_lower=row_lower, row_upper=row_upper
    )
    return replace(model, rows=rows, gram_rows=gram_rows, start=start, program=program)


def _scaled_limits(
    rows: tuple[Row, ...], row_scale: FloatArray, start: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return the limits (m,), (m,) of the rows as the program has them: counted from the original."""
    lower = np.array([row.lower for row in rows]) / row_scale - start
    upper = np.array([row.upper for row in rows]) / row_scale - start
    return lower, upper


def _to_grams(items: Items) -> FloatArray:
    lines, swaps = len(items.lines), len(items.swaps)
    to_grams = np.zeros((lines + swaps, 2 * lines + swaps))
    each = np.arange(lines)
    to_grams[each, each] = items.scale[:lines]
    to_grams[each, lines + each] = -items.scale[:lines]
    to_grams[lines + np.arange(swaps), 2 * lines + np.arange(swaps)] = items.scale[lines:]
    return to_grams


def _column_limits(items: Items) -> tuple[FloatArray, FloatArray]:
    lines = len(items.lines)
    original, scale = items.original[:lines], items.scale[:lines]
    least, most = items.least[:lines], items.most[:lines]
    lower = np.concatenate(
        [
            np.maximum(0.0, (least - original) / scale),
            np.maximum(0.0, (original - most) / scale),
            items.least[lines:] / items.scale[lines:],
        ]
    )
    upper = np.concatenate(
        [
            np.maximum(0.0, (most - original) / scale),
            np.maximum(0.0, (original - least) / scale),
            items.most[lines:] / items.scale[lines:],
        ]
    )
    return lower, upper

"""A brief as one scaled sparse program; MODEL.md tells the rules."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array

from reformulate.brief import Brief
from reformulate.optimise.items import Items
from reformulate.optimise.program import LinearProgram
from reformulate.optimise.rows import Row, goal_rows, hold_rows, with_share
from reformulate.recipes import Recipe

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Model:
    """The items of a brief, its rows in grams, and the program in scaled columns.

    Columns are ``more`` (lines), ``less`` (lines), ``swap`` (swaps):
    grams of line i = original + scale * (more - less), grams of swap j = scale * swap.
    """

    recipe: Recipe
    items: Items
    rows: tuple[Row, ...]
    """(m,) goals first, then holds."""
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
    program: LinearProgram
    """Fewest changes: minimise the sum of relative changes; MODEL.md §4."""

    def grams(self, x: FloatArray) -> FloatArray:
        """Return the grams (n_items,) [g] of a column vector."""
        grams = self.items.original + self.to_grams @ x
        inside: FloatArray = np.minimum(np.maximum(grams, self.items.least), self.items.most)
        return inside


def build_model(items: Items, brief: Brief, recipe: Recipe) -> Model:
    """Build the model of a brief for a recipe: m rows, two columns a line and one a swap.

    Each row is divided by the largest of its scaled coefficients, so that a spoon of spice and a
    kilogram of base meet the solver at the same size.
    """
    goals = goal_rows(brief, items, recipe)
    rows = (*goals, *hold_rows(brief, items, recipe))
    to_grams = _to_grams(items)
    shape = (len(rows), len(to_grams))
    gram_rows = np.array([row.coefficients for row in rows]).reshape(shape)
    by = np.array([row.coefficients if row.top is None else row.top for row in rows])
    row_scale = np.abs(by.reshape(shape) @ to_grams).max(axis=1, initial=0.0)
    row_scale[row_scale == 0.0] = 1.0
    gram_rows /= row_scale[:, None]
    start = gram_rows @ items.original
    lower, upper = _scaled_limits(rows, row_scale, start)
    column_lower, column_upper = _column_limits(items)
    lines, swaps = len(items.lines), len(items.swaps)
    return Model(
        recipe=recipe,
        items=items,
        rows=rows,
        goal_count=len(goals),
        row_scale=row_scale,
        gram_rows=gram_rows,
        start=start,
        to_grams=to_grams,
        program=LinearProgram(
            columns=(
                *(f"more {line.id}" for line in items.lines),
                *(f"less {line.id}" for line in items.lines),
                *(f"swap {swap.food}" for swap in items.swaps),
            ),
            rows=tuple(row.name for row in rows),
            cost=np.ones(2 * lines + swaps),
            matrix=csc_array(gram_rows @ to_grams),
            row_lower=lower,
            row_upper=upper,
            column_lower=column_lower,
            column_upper=column_upper,
        ),
    )


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
        start, matrix = gram_rows @ model.items.original, csc_array(gram_rows @ model.to_grams)
    lower, upper = _scaled_limits(rows, model.row_scale, start)
    program = replace(model.program, matrix=matrix, row_lower=lower, row_upper=upper)
    return replace(model, rows=rows, gram_rows=gram_rows, start=start, program=program)


def with_share_limit(model: Model, i: int, limit: float) -> Model:
    """Return the model with another limit for the share in row ``i``, all else kept."""
    row = with_share(model.rows[i], limit)
    rows = (*model.rows[:i], row, *model.rows[i + 1 :])
    gram_rows = model.gram_rows.copy()
    gram_rows[i] = row.coefficients / model.row_scale[i]
    start = gram_rows @ model.items.original
    lower, upper = _scaled_limits(rows, model.row_scale, start)
    here = np.arange(len(rows)) == i
    program = replace(
        model.program,
        matrix=csc_array(gram_rows @ model.to_grams),
        row_lower=np.where(here, lower, model.program.row_lower),
        row_upper=np.where(here, upper, model.program.row_upper),
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

"""How well the form a line asks for fits the form a food is in.

Points are lost for what differs; a difference that changes the figures is a doubt as well, and a
match with a doubt is never sure. What a line does not say is taken as usual: raw, full fat.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

from reformulate.recipes.matching.forms import (
    FAT,
    GROUND,
    METHOD,
    NO_FORM,
    PACK,
    RINSE,
    SALT,
    SMOKE,
    STATE,
    SWEET,
    Form,
    joined,
)
from reformulate.recipes.matching.names import Known

_NONE: Final[frozenset[str]] = frozenset()
_FAT_ORDER: Final = ("fat-free", "extra-light", "low-fat", "light", "part-skim", "reduced-fat")
_CARRIED: Final = (STATE, GROUND, SMOKE, PACK)
"""What holds for a food's neighbours as well: fat-free refried beans are canned like others."""
_AS_HINTED: Final = 3.0
"""For a state that the line hints at [points]."""
_HARDLY_FAT: Final = 0.5
"""Foods with less count as fat-free [g per 100 g], as a label may say."""
_HARDLY_SALT: Final = 35.0
"""Foods with less count as unsalted [mg sodium per 100 g]: very low sodium on a label."""

_SWEET: Final = 15.0
"""Foods with more are hardly sold without sugar under the same name [g per 100 g]."""


@dataclass(slots=True)
class Fit:
    """Points lost, and what is in doubt."""

    points: float = 0.0
    """Gained, or mostly lost [points]."""
    doubts: list[str] = field(default_factory=list)

    def lose(self, points: float, doubt: str = "") -> None:
        """Take points off; with a doubt, the match has to be asked about."""
        self.points -= points
        if doubt:
            self.doubts.append(doubt)


def form_fit(
    said: Form,
    hinted: Form,
    food: Known,
    *,
    as_usual: bool,
    settled: Form = NO_FORM,
    usual: Form = NO_FORM,
) -> Fit:
    """Return how well a food's form fits.

    Parameters
    ----------
    said : Form
        What the line says.
    hinted : Form
        What it only hints at: "drained" is said of canned food.
    food : Known
        The food.
    as_usual : bool
        Whether the words are known to mean this food where they say nothing about its form.
    settled : Form
        What the line says that the words for this food have in them already.
    usual : Form
        The form that is meant where the line says nothing: refried beans are canned.
    """
    fit = Fit()
    said = {
        axis: left for axis, values in said.items() if (left := values - settled.get(axis, _NONE))
    }
    if STATE not in said and food.form.get(STATE, _NONE) & hinted.get(STATE, _NONE):
        fit.points += _AS_HINTED
    if not as_usual:
        # What is usual is as good as hinted at, whatever else is said of the food.
        hinted = joined(hinted, {axis: usual[axis] for axis in _CARRIED if axis in usual})
    _state(fit, said, hinted, food, as_usual=as_usual)
    _fat(fit, said, food, as_usual=as_usual)
    _salt(fit, said, food, as_usual=as_usual)
    _rest(fit, said, hinted, food, as_usual=as_usual)
    return fit


def _state(fit: Fit, said: Form, hinted: Form, food: Known, *, as_usual: bool) -> None:
    wanted = said.get(STATE, _NONE)
    own, any_state = food.form.get(STATE, _NONE), food.any_form.get(STATE, _NONE)
    if not wanted:
        hints = hinted.get(STATE, _NONE)
        if own & hints or as_usual:
            return
        if own and "raw" not in own:
            fit.lose(20.0, f"it does not say {_listed(own)}")
        elif hints == {"raw"}:
            fit.lose(8.0)  # a bunch or a sprig is no seed
        elif hints:
            fit.lose(3.0)
        return
    if wanted & any_state:
        if not wanted & own:
            fit.lose(2.0)
        return
    if wanted == {"raw"} and not any_state:
        return
    if "frozen" in wanted and any_state <= {"raw"}:
        fit.lose(12.0)  # freezing hardly changes the figures
        return
    lost = 45.0 if any_state else 20.0
    fit.lose(lost, f"it says {_listed(wanted)}")


def _fat(fit: Fit, said: Form, food: Known, *, as_usual: bool) -> None:
    wanted = said.get(FAT, _NONE)
    own, any_fat = food.form.get(FAT, _NONE), food.any_form.get(FAT, _NONE)
    if not wanted:
        if as_usual or not own or "full-fat" in own:
            return
        if all(value.endswith("%") for value in own):
            fit.lose(3.0)
        else:
            fit.lose(20.0, f"it does not say {_listed(own)}")
        return
    if wanted & any_fat:
        if not wanted & own:
            fit.lose(1.0)
        return
    if not any_fat or any_fat == {"full-fat"}:
        if wanted == {"full-fat"}:
            return
        if food.fat < _HARDLY_FAT:
            fit.lose(5.0)
        else:
            fit.lose(45.0 if any_fat else 22.0, f"it says {_listed(wanted)}")
        return
    near = any(_steps(one, other) == 1 for one in wanted for other in any_fat)
    fit.lose(12.0 if near else 45.0, f"it says {_listed(wanted)}")


def _steps(one: str, other: str) -> int:
    if one in _FAT_ORDER and other in _FAT_ORDER:
        return abs(_FAT_ORDER.index(one) - _FAT_ORDER.index(other))
    return len(_FAT_ORDER)


def _salt(fit: Fit, said: Form, food: Known, *, as_usual: bool) -> None:
    wanted = said.get(SALT, _NONE)
    own, any_salt = food.form.get(SALT, _NONE), food.any_form.get(SALT, _NONE)
    if not wanted:
        if as_usual or not own or "salted" in own:
            return
        if "unsalted" in own and not food.form.get(METHOD, _NONE) & {"roasted"}:
            fit.lose(6.0)
        else:
            fit.lose(20.0, f"it does not say {_listed(own)}")
        return
    if wanted & any_salt:
        return
    if wanted == {"salted"} and not any_salt and not food.sodium < _HARDLY_SALT:
        return
    if "salted" not in wanted and food.sodium < _HARDLY_SALT:
        return
    fit.lose(25.0, f"it says {_listed(wanted)}")


def _rest(fit: Fit, said: Form, hinted: Form, food: Known, *, as_usual: bool) -> None:
    for axis, asked_lost, conflict_lost, unsaid_lost in (
        (SMOKE, 25.0, 25.0, 25.0),
        (GROUND, 18.0, 18.0, 20.0),
        (SWEET, 15.0, 40.0, 3.0),
        (PACK, 15.0, 40.0, 4.0),
    ):
        wanted = said.get(axis, _NONE)
        own, any_value = food.form.get(axis, _NONE), food.any_form.get(axis, _NONE)
        if wanted:
            if axis == GROUND and any_value:
                # Ground garlic is garlic powder; but powdered sugar is not granulated sugar.
                fit.lose(0.0 if wanted & any_value else 3.0)
            elif not wanted & any_value and not _is_hardly_sweet(wanted, any_value, food):
                lost = conflict_lost if any_value else asked_lost
                fit.lose(lost, f"it says {_listed(wanted)}")
        elif own and not as_usual and not own & hinted.get(axis, _NONE):
            doubt = f"it does not say {_listed(own)}" if unsaid_lost >= 20.0 else ""
            fit.lose(1.0 if own == {"unsweetened"} else unsaid_lost, doubt)
    if "rinsed" in food.form.get(RINSE, _NONE):
        if "rinsed" not in said.get(RINSE, _NONE):
            fit.lose(12.0)
    elif "rinsed" in said.get(RINSE, _NONE):
        # Rinsing washes salt out: a food that is known rinsed goes before one that is known as such.
        fit.lose(25.0 if as_usual else 8.0)
    wanted = said.get(METHOD, _NONE)
    own = food.form.get(METHOD, _NONE)
    if wanted and not wanted & own:
        fit.lose(3.0 if own else 1.0)
    elif own and not wanted:
        fit.lose(1.0)


def _is_hardly_sweet(wanted: frozenset[str], any_value: frozenset[str], food: Known) -> bool:
    return wanted == {"unsweetened"} and not any_value and not food.sugars > _SWEET


def _listed(values: frozenset[str]) -> str:
    return " or ".join(f"“{value}”" for value in sorted(values))

"""Errors a user can act on.

* ReformulateError
  * BadInput        something typed or loaded must be put right first; carries every problem found
  * FileProblem     a file could not be read or written
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing to put right: where it is, what is wrong, what to do."""

    where: str
    what: str
    fix: str

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        return f"{place}{self.what} {self.fix}".rstrip()


class ReformulateError(Exception):
    """The root of everything a user can act on."""


class BadInput(ReformulateError):  # noqa: N818 - named for what the user did, as it reads in a sentence
    """Something typed or loaded must be put right; ``problems`` lists all that was found."""

    def __init__(self, problems: Iterable[Problem] | Problem) -> None:
        self.problems = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))

    def __reduce__(self) -> tuple[type[BadInput], tuple[tuple[Problem, ...]]]:
        return type(self), (self.problems,)


class FileProblem(BadInput):
    """A file could not be read or written; nothing was changed."""


def shortened(problems: Sequence[Problem], where: str, most: int) -> tuple[Problem, ...]:
    """Return the first problems [``most``], and how many more there are in the file ``where``."""
    more = len(problems) - most
    if more <= 0:
        return tuple(problems)
    return (*problems[:most], Problem(where, f"There are {more} more problems.", ""))

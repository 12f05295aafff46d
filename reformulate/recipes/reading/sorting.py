"""Give every line of a text its place in the recipe: title, servings, ingredient, step, note."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from reformulate.recipes.reading.chatter import closes, may_be_a_signature, opens_below
from reformulate.recipes.reading.headings import (
    Part,
    named_title,
    names_a_group,
    part_of_heading,
)
from reformulate.recipes.reading.line import read_line
from reformulate.recipes.reading.line_kinds import (
    is_aside,
    is_group,
    is_ingredient,
    is_instruction,
    may_be_a_food,
    may_be_a_title,
    names_a_food,
    numbered,
    starts_with_verb,
    without_mark,
)
from reformulate.recipes.reading.lists import split_list
from reformulate.recipes.reading.recipe_values import ReadNote, ReadRecipe
from reformulate.recipes.reading.servings import ReadServings, read_servings, servings_in_title
from reformulate.recipes.reading.values import ReadLine
from reformulate.recipes.reading.wrapped import Item, Row, goes_on, numbered_pieces, step_goes_on

_SHOWN: Final = 120
_AROUND: Final = " #*_=~"


@dataclass(slots=True)
class Sorting:
    """The lines of a text, and what has been made of them so far."""

    rows: Sequence[Row]
    part: Part | None = None
    """The part that the last heading opened; None before the first."""
    title: str = ""
    subject: str = ""
    """What a mail is headed: a title for want of another."""
    servings: ReadServings | None = None
    waiting: list[Row] = field(default_factory=list)
    """Lines before the first ingredient: a title, an ingredient without an amount, a greeting."""
    ingredients: list[Item] = field(default_factory=list)
    steps: list[Item] = field(default_factory=list)
    notes: list[ReadNote] = field(default_factory=list)
    closing: Row | None = None
    """The line that took leave, where one did."""

    def note(self, row: Row, what: str) -> None:
        """Keep a line that is not in the recipe, and why."""
        shown = row.text if len(row.text) <= _SHOWN else row.text[: _SHOWN - 1] + "…"
        self.notes.append(ReadNote(line=row.number, text=shown, what=what))

    def sort(self) -> None:
        """Give all lines their places."""
        headings = [part_of_heading(row.text) for row in self.rows]
        last_steps = max(
            (i for i, found in enumerate(headings) if found and found[0] is Part.STEPS), default=-1
        )
        last_ingredients = max(
            (i for i, found in enumerate(headings) if found and found[0] is Part.INGREDIENTS),
            default=-1,
        )
        for i, (row, heading) in enumerate(zip(self.rows, headings, strict=True)):
            if heading is not None:
                self._open(heading[0], heading[1], row)
            elif self._is_about_the_whole(row):
                continue
            elif self.part is Part.ASIDE and not self._resumes(row, last_ingredients > i):
                self.note(row, "Left out.")
            elif self.part is Part.STEPS:
                self._add_step(row)
            elif self.part is Part.INGREDIENTS:
                self._sort_below_ingredients(i, steps_follow=last_steps > i)
            else:
                self._sort_without_heading(i)

    def _resumes(self, row: Row, ingredients_follow: bool) -> bool:
        """Whether a story before the recipe ends here, with the first ingredient."""
        if (
            self.ingredients
            or ingredients_follow
            or not is_ingredient(row.text, read_line(row.text))
        ):
            return False
        self.part = None
        return True

    def _open(self, part: Part, rest: str, row: Row) -> None:
        self._settle_waiting(row, with_foods=False)
        self.part = part
        if not rest:
            return
        servings = read_servings(rest.strip("()"))
        if servings is not None:
            self.servings = self.servings or servings
        elif rest.startswith("(") or part is Part.ASIDE:
            self.note(row, "Left out.")
        elif part is Part.INGREDIENTS:
            self._add_ingredient(Row(row.number, rest, row.indent))
        else:
            self._add_step(Row(row.number, rest, row.indent))

    def _is_about_the_whole(self, row: Row) -> bool:
        """Take a title that says so, servings, and what no recipe here keeps."""
        named = None if self.title or self.ingredients else named_title(row.text)
        if named:
            if named.is_subject:
                self.subject = named.text
            else:
                self._take_title(named.text)
            return True
        servings = read_servings(row.text)
        if servings is not None:
            if self.servings is None or self.servings.number is None:
                self.servings = servings
            else:
                self.note(row, "The servings are said more than once; the first is used.")
            return True
        bare = row.text.strip(_AROUND)
        if opens_below(bare):
            self.note(row, "Left out.")
            self.part = Part.ASIDE if self.ingredients else self.part
            return True
        leaves = bool(self.ingredients) and closes(bare)
        if leaves or is_aside(row.text) or self._signs(row, bare):
            self.note(row, "Left out.")
            self.closing = row if leaves else self.closing
            return True
        return False

    def _signs(self, row: Row, bare: str) -> bool:
        """Whether the line is the name below the one that took leave."""
        if self.closing is None or row.number > self.closing.number + 2:
            return False
        other = starts_with_verb(bare) or names_a_food(bare) or names_a_group(bare)
        return may_be_a_signature(bare) and not other

    def _groups(self, i: int) -> bool:
        """Whether line ``i`` names a group of the ingredients below it."""
        row = self.rows[i]
        following = self.rows[i + 1].text if i + 1 < len(self.rows) else ""
        starts_block = i == 0 or not row.follows(self.rows[i - 1])
        return is_group(row.text, following, starts_block=starts_block)

    def _sort_below_ingredients(self, i: int, *, steps_follow: bool) -> None:
        row = self.rows[i]
        if self._groups(i):
            self._add_group(row)
        elif self._goes_on(row) or steps_follow or not is_instruction(row.text):
            self._add_ingredient(row)
        else:
            self.part = Part.STEPS
            self._add_step(row)

    def _sort_without_heading(self, i: int) -> None:
        row = self.rows[i]
        if self._goes_on(row):
            self._add_ingredient(row)
            return
        read = read_line(row.text)
        told = is_instruction(row.text)
        if (self.waiting or self.title or self.ingredients) and self._groups(i):
            self._settle_waiting(row)
            self._add_group(row)
        elif is_ingredient(row.text, read) or (not told and len(split_list(row.text)) > 1):
            self._settle_waiting(row)
            self._add_ingredient(row)
        elif not self.ingredients and not self.steps:
            self.waiting.append(row)
        elif self.steps or told or (numbered(row.text) and not names_a_food(row.text)):
            self._add_step(row)
        elif read.heading or may_be_a_food(row.text):
            self._add_ingredient(row)
        else:
            self._add_step(row)

    def _settle_waiting(self, row: Row, *, with_foods: bool = True) -> None:
        """Find the title among the lines before ``row``, and foods close to it."""
        title = None if self.title else next(filter(_is_title, self.waiting), None)
        if title is not None:
            self._take_title(title.text)
        for i, one in enumerate(self.waiting):
            if one is title or one.text.strip(_AROUND) == self.title:
                continue
            close = one.number == row.number - len(self.waiting) + i
            if with_foods and close and may_be_a_food(one.text) and names_a_food(one.text):
                self._add_ingredient(one)
            else:
                self.note(one, "Left out: it stands before the ingredients.")
        self.waiting = []

    def _take_title(self, text: str) -> None:
        self.title, servings = servings_in_title(text.strip(_AROUND).removesuffix(":").strip())
        self.servings = self.servings or servings

    def _goes_on(self, row: Row) -> bool:
        return bool(self.ingredients) and not self.steps and goes_on(self.ingredients[-1], row)

    def _add_ingredient(self, row: Row) -> None:
        if self._goes_on(row):
            self.ingredients[-1].extend(row, row.text)
        else:
            self.ingredients.append(Item(row, row, row.text))

    def _add_group(self, row: Row) -> None:
        self.ingredients.append(Item(row, row, row.text, is_group=True))

    def _add_step(self, row: Row) -> None:
        if self.steps and step_goes_on(self.steps[-1], row):
            self.steps[-1].extend(row, without_mark(row.text))
        else:
            self.steps.append(Item(row, row, without_mark(row.text)))

    def settled(self) -> ReadRecipe:
        """Return what was read."""
        told = [row for row in self.waiting if is_instruction(row.text)]
        self.waiting = [row for row in self.waiting if row not in told]
        self._settle_waiting(Row(0, "", 0))
        for row in told:
            self._add_step(row)
        read = [(line, item.first.number) for item in self.ingredients for line in _lines_of(item)]
        title = self.title or self.subject
        for missing, what in ((title, "title"), (read, "ingredients")):
            if not missing:
                self.notes.append(ReadNote(line=0, text="", what=f"No {what} found."))
        return ReadRecipe(
            title=title,
            servings=self.servings,
            lines=tuple(line for line, _ in read),
            places=tuple(number for _, number in read),
            steps=tuple(piece for item in self.steps for piece in numbered_pieces(item.text)),
            notes=tuple(sorted(self.notes, key=lambda note: note.line)),
        )


def _is_title(row: Row) -> bool:
    return may_be_a_title(row.text)


def _lines_of(item: Item) -> tuple[ReadLine, ...]:
    if item.is_group:
        heading = item.text.strip(_AROUND).removesuffix(":")
        return (ReadLine(text=item.text, heading=True, comment=heading),)
    return tuple(read_line(piece) for piece in split_list(item.text))

"""Explore swaps: what each would do on its own, tick to allow, pin to use; search the whole table."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import partial

from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtGui import QHideEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from reformulate import (
    QUANTITY_INDEX,
    Batch,
    Brief,
    Candidate,
    FoodTable,
    Prospect,
    Swap,
    TableSearch,
    candidate_swaps,
    explore,
    moved_words,
    search_table,
    spoken,
    taste_words,
)
from ui.follower import REST, Follower
from ui.phrases import in_a_row
from ui.session import Session
from ui.swaps_bar import SwapsBar
from ui.swaps_list import SwapsList
from ui.swaps_table import NAME, SwapRow, SwapsTable, cost_words, with_tick
from ui.theme import Theme
from ui.widgets import muted_label, named
from ui.work import Progress, Work

LINES, MORE_LINES = 3, 4
"""Lines kept for what is known of a swap, usually and where they are short: the table stays put [count]."""

SHORT = 120
"""Below this many average characters lines are short [count]."""

ALONE = "Each swap on its own, in use, everything else kept; nearest to the goals first."
NONE = "The swap book has nothing for these lines. Search the whole table."


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """All that the table depends on."""

    batch: Batch
    brief: Brief
    candidates: tuple[Candidate, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sought:
    """What the whole table is searched for."""

    batch: Batch
    brief: Brief
    line: str
    name: str = field(compare=False)


class SwapsView(QWidget):
    """A table of swaps with the answer each would give, and what is known of the chosen one."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()
        self.setObjectName("swaps")
        self._session = session
        self._found: tuple[Candidate, ...] = ()
        self._prospects: dict[object, Prospect] = {}
        self._chosen: Swap | None = None
        self._kind = ""
        self.explorer = Follower(self._explore, "swaps", self)
        self.searcher = Follower(self._search, "search", self)
        self._model = SwapsTable(self)
        self.table = SwapsList(self._model, theme)
        self.bar = SwapsBar(self._kinds, self._lines)
        self._about = named(QLabel(), "about swap")
        self._sentence = muted_label("", small=True, name="swaps sentence")
        self._lay_out()
        self._connect()

    def _connect(self) -> None:
        self.explorer.done.connect(self._on_explored)
        self.explorer.failed.connect(self._sentence.setText)
        self.explorer.given_up.connect(lambda: self._sentence.setText("Given up."))
        self.searcher.done.connect(self._on_found)
        self.searcher.failed.connect(self._sentence.setText)
        self.searcher.given_up.connect(lambda: self._sentence.setText("The search was given up."))
        self.bar.most_wanted.connect(self._set_most)
        self.bar.kind_wanted.connect(self._set_kind)
        self.bar.search_wanted.connect(self.search)
        self._model.ticked.connect(self._on_ticked)
        self._model.modelReset.connect(self._on_current)
        self.table.selectionModel().currentRowChanged.connect(self._on_current)
        self._session.answer_changed.connect(self._on_answer)
        self._session.current_changed.connect(self._on_recipe)

    # What is asked for

    def showEvent(self, event: QShowEvent) -> None:
        """Begin to follow the brief."""
        super().showEvent(event)
        self._refresh(rest=0)

    def hideEvent(self, event: QHideEvent) -> None:
        """Leave off: nobody looks."""
        super().hideEvent(event)
        self.explorer.leave_off()
        self.searcher.leave_off()

    def _on_answer(self) -> None:
        if self.isVisible():
            self._refresh()

    def _on_recipe(self) -> None:
        self._found, self._chosen, self._kind, self._prospects = (), None, "", {}
        self.explorer.forget()
        self.searcher.forget()
        self._model.show_rows((), (), priced=False)
        self._sentence.setText("")
        self._on_answer()

    def _refresh(self, *, rest: int = REST) -> None:
        document, batch = self._session.document, self._session.batch
        if document is None or batch is None:
            self.explorer.forget()
            self._model.show_rows((), (), priced=False)
            self._sentence.setText("Nothing can be told until the problems above are solved.")
            return
        self.bar.show_chosen(document.brief.max_swaps, self._kind)
        asked = _Asked(batch=batch, brief=document.brief, candidates=self._candidates())
        shown = self.explorer.shown
        if asked == shown:
            self.explorer.leave_off()
            self._show(asked)
            return
        if shown is not None and _columns(shown) != _columns(asked):
            self._prospects = {}
        self._show(asked, faint=True)
        self.explorer.want(asked, rest=rest)

    def _candidates(self) -> tuple[Candidate, ...]:
        known = self._offered()
        have = {_key(candidate.swap) for candidate in known}
        new = [candidate for candidate in self._found if _key(candidate.swap) not in have]
        wanted = [c for c in known if c.in_brief or self._kind in ("", _kind_of(c))]
        return (*new, *wanted)

    def _offered(self) -> tuple[Candidate, ...]:
        document, opened = self._session.document, self._session.recipe_set
        if document is None or opened is None or self._session.batch is None:
            return ()
        return candidate_swaps(
            document.recipe, document.brief, self._session.foods, opened.exchanges
        )

    def _explore(self, asked: _Asked) -> Work:
        return partial(_work_out, asked, self._session.foods)

    # What came of it

    def _on_explored(self, result: object) -> None:
        asked = self.explorer.shown
        if asked is not None and isinstance(result, dict):
            self._prospects = result
            self._show(asked)

    def _show(self, asked: _Asked, *, faint: bool = False) -> None:
        """Show swaps with the figures there are; ``faint`` while those are of the brief before."""
        batch, prospects = asked.batch, self._prospects
        names = {
            line.id: item.food.name.split(",")[0].lower()
            for line, item in zip(batch.recipe.lines, batch.ingredients, strict=True)
        }
        order = {key: number for number, key in enumerate(prospects)}
        rows = tuple(
            SwapRow(
                candidate=candidate,
                prospect=prospects.get(_key(candidate.swap)),
                name=self._session.foods.food(candidate.swap.food).name,
                stands_in_for=", ".join(names[line] for line in candidate.swap.stands_in_for),
            )
            for candidate in sorted(
                asked.candidates, key=lambda c: order.get(_key(c.swap), len(order))
            )
        )
        cost = QUANTITY_INDEX["cost"]
        priced = any(item.known[cost] for item in batch.ingredients)
        self._model.show_rows(rows, asked.brief.goals, priced=priced, faint=faint)
        number = self._model.number_of(self._chosen) if self._chosen else 0
        if rows:
            at = self._model.index(max(number, 0), NAME)
            flags = QItemSelectionModel.SelectionFlag
            self.table.selectionModel().setCurrentIndex(at, flags.ClearAndSelect | flags.Rows)
        if not self._found:
            self._sentence.setText(ALONE if rows else NONE)

    def _on_current(self) -> None:
        index = self.table.currentIndex()
        if not index.isValid():
            self._about.setText("")
            return
        row = self._model.row(index.row())
        self._chosen = row.swap
        parts = [self._model.about(row), _with_it(row)]
        self._about.setText("\n".join(part for part in parts if part))

    # Editing

    def _on_ticked(self, swap: Swap, which: str, on: bool) -> None:
        self._chosen = swap
        verb = {"allowed": "Allow", "pinned": "Pin"}[which] if on else "Take out"
        self._session.edit_brief(
            lambda brief: replace(brief, swaps=with_tick(brief.swaps, swap, which, on=on)),
            f"{verb} {swap.food}",
        )

    def _set_most(self, most: int | None) -> None:
        self._session.edit_brief(lambda brief: replace(brief, max_swaps=most), "Change most swaps")

    def _kinds(self) -> list[str]:
        return sorted({_kind_of(c) for c in self._offered() if not c.in_brief} - {""})

    def _set_kind(self, kind: str) -> None:
        self._kind = kind
        self._refresh(rest=0)

    # Searching the whole table

    def _lines(self) -> list[tuple[str, str]]:
        batch = self._session.batch
        if batch is None:
            return []
        lines = zip(batch.recipe.lines, batch.ingredients, strict=True)
        return [(line.id, spoken(item.food.name)) for line, item in lines]

    def search(self, line: str) -> None:
        """Find the foods of the whole table that would help most in place of a line."""
        document, batch = self._session.document, self._session.batch
        if document is not None and batch is not None:
            name = dict(self._lines())[line]
            sought = _Sought(batch=batch, brief=document.brief, line=line, name=name)
            self.searcher.want(sought, rest=0)

    def _search(self, sought: _Sought) -> Work:
        all_foods = self._session.all_foods

        def work(progress: Progress) -> object:
            return search_table(
                sought.batch, sought.brief, all_foods(), (sought.line,), progress=progress
            )

        return work

    def _on_found(self, result: object) -> None:
        sought = self.searcher.shown
        if sought is None or not isinstance(result, TableSearch):
            return
        self._session.take_foods([one.food.key for one in result.found])
        self._found = tuple(Candidate(swap=one.swap) for one in result.found)
        self._chosen = self._found[0].swap if self._found else self._chosen
        self._sentence.setText(
            f"In place of {sought.name}: the {len(result.found)} best of {result.priced} foods stand "
            f"first. Proven: {result.solved} programs solved, and no other food can do better. "
            "The search knows figures, not flavour."
        )
        self._refresh(rest=0)

    # Looks

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep as many lines as what is known of a swap may need."""
        super().resizeEvent(event)
        metrics = self._about.fontMetrics()
        lines = MORE_LINES if self.width() < SHORT * metrics.averageCharWidth() else LINES
        self._about.setMinimumHeight(lines * metrics.lineSpacing())

    def _lay_out(self) -> None:
        self._about.setWordWrap(True)
        self._about.setTextFormat(Qt.TextFormat.PlainText)
        self._about.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self._sentence.setWordWrap(True)
        foot = named(QFrame(), "swap foot")
        below = QVBoxLayout(foot)
        below.setContentsMargins(12, 4, 12, 8)
        below.addWidget(self._about)
        row = QHBoxLayout()
        row.addWidget(self._sentence, 1)
        row.addWidget(self.explorer.progress)
        row.addWidget(self.searcher.progress)
        below.addLayout(row)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(4)
        layout.addWidget(self.bar)
        layout.addWidget(self.table, 1)
        layout.addWidget(foot)


def _work_out(asked: _Asked, foods: FoodTable, progress: Progress) -> dict[object, Prospect]:
    swaps = [candidate.swap for candidate in asked.candidates]
    found = explore(asked.batch, asked.brief, foods, swaps, progress=progress)
    return {_key(prospect.swap): prospect for prospect in found}


def _columns(asked: _Asked) -> list[str]:
    """Return what the goals are on, which is what there are columns for."""
    return [goal.nutrient for goal in asked.brief.goals]


def _with_it(row: SwapRow) -> str:
    """Say what moves with a swap, how it tastes and what it costs; or why there is no answer."""
    if row.prospect is None:
        return ""
    answer = row.prospect.answer
    if answer is None:
        return " ".join(str(problem) for problem in row.prospect.problems)
    moves = moved_words(answer.items, answer.grams)
    parts = [in_a_row(moves[:5]) or "nothing moves", taste_words(row.prospect)]
    if answer.achieved.per_serving[QUANTITY_INDEX["cost"]]:
        parts.append(f"costs {cost_words(row.prospect)} a serving")
    return f"With it: {'; '.join(part for part in parts if part)}."


def _kind_of(candidate: Candidate) -> str:
    return candidate.exchange.kind if candidate.exchange else ""


def _key(swap: Swap) -> object:
    return (swap.food, swap.stands_in_for)

"""The one bridge between core and widgets."""

from __future__ import annotations

import logging
from collections.abc import Callable, Hashable
from dataclasses import replace
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QUndoStack

from reformulate import (
    SYSTEMS,
    Answer,
    BadInput,
    Batch,
    Brief,
    Conflict,
    Document,
    FoodStore,
    FoodTable,
    Holder,
    MeasureSystem,
    Optimiser,
    OwnFood,
    Problem,
    Recipe,
    RecipeSet,
    ReformulateError,
    SetLock,
    Stopped,
    chain_problems,
    digest,
    document_name,
    drop_draft,
    find_conflict,
    food_from_recipe,
    goal_problems,
    headroom_costs,
    measured_answer,
    own_key,
    own_table,
    price_problems,
    priced,
    read_draft,
    read_own_foods,
    read_set,
    remember_matches,
    starting_brief,
    unread_keys,
    weigh_recipe,
    write_document,
    write_draft,
    write_own_food,
)
from ui.undo import ReplaceDocument
from ui.work import Progress, Work, Worker

logger = logging.getLogger(__name__)

Edit = Callable[[Document], Document]

MEASURE_DELAY = 60
"""After this long at rest the measured answer is worked out [ms]: it stands within 150 ms of rest."""

DRAFT_DELAY = 800
"""After this long at rest unsaved work is kept beside the recipe [ms]."""


class Session(QObject):
    """Holds the open set, the recipe on screen and its answer; every change goes through ``edit``.

    The answer is worked out at once on each change: a live move takes a few milliseconds, less
    than a frame, so the window never shows one brief beside another's answer.
    """

    set_changed = Signal()
    """Another set is open, or the set has another recipe."""
    current_changed = Signal()
    """Another recipe is on screen."""
    answer_changed = Signal()
    """``answer`` and ``problems`` are new."""
    refused = Signal(object)
    """BadInput: an edit was not taken; nothing changed."""
    notice = Signal(str)
    """Something to tell the user in one sentence."""

    def __init__(
        self, foods: FoodTable, parent: QObject | None = None, store: FoodStore | None = None
    ) -> None:
        super().__init__(parent)
        self.foods = foods
        self.store = store
        self._table = foods
        self.undo_stack = QUndoStack(self)
        self.own_foods: tuple[OwnFood, ...] = ()
        self.answer: Answer | None = None
        self.measured_wanted = True
        self.problems: tuple[Problem, ...] = ()
        self._headroom: dict[str, float] = {}
        self.recipe_set: RecipeSet | None = None
        self._documents: tuple[Document, ...] = ()
        self._saved: tuple[Document, ...] = ()
        self._digests: dict[Path, str] = {}
        self._current = 0
        self._batch: Batch | None = None
        self._optimiser: Optimiser | None = None
        self._lock: SetLock | None = None
        self._owns_drafts = True
        self._drafts = QTimer(self)
        self._drafts.setSingleShot(True)
        self._drafts.setInterval(DRAFT_DELAY)
        self._drafts.timeout.connect(self.keep_drafts)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(MEASURE_DELAY)
        self._rest.timeout.connect(self._measure)
        self._measurer = Worker(self)
        self._measurer.done.connect(self._on_measured)
        self._measurer.failed.connect(
            lambda words: self.notice.emit(f"Amounts to measure were not found. {words}")
        )

    # What is open

    @property
    def documents(self) -> tuple[Document, ...]:
        """The recipes of the set, as edited."""
        return self._documents

    @property
    def current(self) -> int:
        """Which of the documents is on screen."""
        return self._current

    @property
    def document(self) -> Document | None:
        """The recipe on screen, or None when the set has none."""
        return self._documents[self._current] if self._documents else None

    @property
    def batch(self) -> Batch | None:
        """The recipe on screen, weighed; None while it cannot be."""
        return self._batch

    @property
    def system(self) -> MeasureSystem:
        """The measures the set is written in."""
        return SYSTEMS[self.recipe_set.measures if self.recipe_set else "us"]

    def open_set(self, folder: Path) -> Holder | None:
        """Open a set; restore drafts as undoable edits; return who else has it open.

        Raises
        ------
        BadInput
            If the folder is no set; what was open stays open.
        """
        opened = read_set(folder)
        self.close_set()
        self._lock = SetLock(folder)
        holder = self._lock.acquire()
        self._owns_drafts = holder is None
        self.recipe_set = opened
        self._gather_foods(opened)
        self._documents = self._saved = opened.documents
        self._digests = {document.path: digest(document.path) for document in opened.documents}
        self._current = 0
        self.undo_stack.clear()
        self.set_changed.emit()
        restored = self._restore_drafts()
        self.show_document(0)
        unread = [
            problem for document in opened.documents for problem in unread_keys(document.path)
        ]
        wrong = price_problems(self.foods, opened.prices, self.system)
        recipes = {document.path.name: document.recipe for document in opened.documents}
        chains = chain_problems(recipes, self.own_foods)
        words = " ".join([*restored, *(str(problem) for problem in (*unread, *wrong, *chains))])
        if words:
            self.notice.emit(words)
        return holder

    def _gather_foods(self, opened: RecipeSet) -> None:
        """Bring together the table, and what the set's recipes need of the imported foods."""
        foods, store = self._table, self.store
        try:
            self.own_foods = read_own_foods(opened.folder)
        except BadInput as error:
            self.own_foods = ()
            self.notice.emit(f"Own foods could not be read. {error}")
        if self.own_foods:
            foods = foods.merged(own_table(self.own_foods))
        if store is not None:
            keys = {line.food for d in opened.documents for line in d.recipe.lines}
            keys |= {swap.food for d in opened.documents for swap in d.brief.swaps}
            missing = sorted(key for key in keys if key not in foods and key in store)
            if missing:
                foods = foods.merged(store.table(missing))
        self.foods = priced(foods, opened.prices, self.system)

    def add_own_food(self, food: OwnFood) -> None:
        """Keep a food of the user's own in the set, and have it at hand.

        Raises
        ------
        FileProblem
            If the set's file of own foods cannot be written.
        """
        if self.recipe_set is None:
            return
        write_own_food(self.recipe_set.folder, food)
        self.own_foods = (*(own for own in self.own_foods if own.key != food.key), food)
        self._gather_foods(self.recipe_set)
        self._batch = None
        self._optimiser = None
        self._update_answer()
        self.answer_changed.emit()

    def recipe_as_food(self) -> OwnFood | None:
        """Keep the recipe on screen as a food of the set, for use in another; None while it cannot be.

        Raises
        ------
        BadInput
            If a dish would contain itself, or the file of own foods cannot be written.
        """
        document, batch = self.document, self._batch
        if document is None or batch is None:
            return None
        made = [own for own in self.own_foods if own.recipe == document.path.name]
        title = document.recipe.title
        taken = {own.key for own in self.own_foods}
        food = food_from_recipe(
            batch,
            made[0].key if made else own_key(title, taken),
            title,
            recipe_file=document.path.name,
            recipes={one.path.name: one.recipe for one in self._documents},
            own_foods=self.own_foods,
        )
        self.add_own_food(food)
        return food

    def take_food(self, key: str) -> None:
        """Bring an imported food to the foods at hand; what is at hand already stays."""
        if key not in self.foods and self.store is not None and key in self.store:
            self.foods = self.foods.merged(self.store.table([key]))

    def close_set(self) -> None:
        """Give the set back; unsaved work is kept as drafts, as far as that can be."""
        self.keep_drafts()
        self._rest.stop()
        self._measurer.cancel()
        self._documents = self._saved = ()
        if self._lock:
            self._lock.release()
            self._lock = None

    def add_recipe(self, recipe: Recipe) -> Document:
        """Write a recipe into a new file of the set, with the holds it starts with, and show it.

        Raises
        ------
        BadInput
            If no set is open, or the recipe has something that must be put right first.
        FileProblem
            If the file cannot be written.
        """
        opened = self.recipe_set
        if opened is None:
            raise BadInput(Problem("", "No set is open.", "Open a set first."))
        path = opened.folder / document_name(recipe.title, _names_in(opened.folder))
        document = Document(path=path, recipe=recipe, brief=starting_brief(recipe))
        write_document(document, expected_digest="")
        self._documents = (*self._documents, document)
        self._saved = (*self._saved, document)
        self._digests[path] = digest(path)
        self.set_changed.emit()
        self.show_document(len(self._documents) - 1)
        return document

    def remember(self, words: str, food: str) -> None:
        """Keep in the set which food the user's words mean; BadInput where that cannot be."""
        opened = self.recipe_set
        if opened is None or dict(opened.matches).get(words) == food:
            return
        remember_matches(opened.folder, {words: food})
        matches = tuple({**dict(opened.matches), words: food}.items())
        self.recipe_set = replace(opened, matches=matches)

    def show_document(self, index: int) -> None:
        """Put another recipe of the set on screen."""
        self._current = index
        self._batch = None
        self._optimiser = None
        self._update_answer()
        self.current_changed.emit()
        self.answer_changed.emit()

    def answering(self, index: int) -> Work:
        """Return the work that answers any recipe of the set as it would be shown."""
        document, foods, system = self._documents[index], self.foods, self.system
        measured = self.measured_wanted

        def work(progress: Progress) -> object:
            try:
                batch = weigh_recipe(document.recipe, foods, system)
                answer = Optimiser(batch, document.brief, foods).answer(document.brief, reach=False)
                return measured_answer(answer, system, progress) if measured else answer
            except Stopped:
                raise
            except ReformulateError:
                return None

        return work

    def conflict(self) -> Conflict | None:
        """Return why the brief on screen cannot be met, or None where it can."""
        document = self.document
        if self._batch is None or document is None:
            return None
        try:
            return find_conflict(self._batch, document.brief, self.foods)
        except ReformulateError as error:
            logger.info("no reason found for the conflict: %s", error)
            return None

    # Changing it

    def edit(self, edit: Edit, text: str, *, key: Hashable = None) -> bool:
        """Apply ``edit`` to the recipe on screen as one undo step named ``text``.

        The same ``key`` in a row folds into one step. An edit whose result cannot be answered is
        not taken: ``refused`` says why, and False is returned.
        """
        before = self.document
        if before is None:
            return False
        try:
            after = edit(before)
            if after == before:
                return True
            if not self.problems:
                self._check(after)
        except BadInput as error:
            self.refused.emit(error)
            return False
        self._push(self._current, after, text, key)
        return True

    def edit_brief(
        self, edit: Callable[[Brief], Brief], text: str, *, key: Hashable = None
    ) -> bool:
        """Apply ``edit`` to the brief on screen, as ``edit`` does."""
        return self.edit(lambda d: replace(d, brief=edit(d.brief)), text, key=key)

    def _push(self, index: int, after: Document, text: str, key: Hashable = None) -> None:
        """Put a document in place as one undo step; steps of two recipes never fold."""
        key = None if key is None else (index, key)
        put = partial(self._adopt, index)
        self.undo_stack.push(ReplaceDocument(put, self._documents[index], after, text, key))

    def _adopt(self, index: int, document: Document) -> None:
        """Put ``document`` in place and tell the views."""
        self._documents = (*self._documents[:index], document, *self._documents[index + 1 :])
        self._drafts.start()
        if index != self._current:
            self.show_document(index)
            return
        self._update_answer()
        self.answer_changed.emit()

    # Keeping it

    @property
    def unsaved(self) -> tuple[Document, ...]:
        """The recipes that differ from their files."""
        return tuple(
            now for now, saved in zip(self._documents, self._saved, strict=True) if now != saved
        )

    def save(self, *, overwrite: bool = False) -> None:
        """Write every edited recipe to its file.

        Raises
        ------
        FileProblem
            If a file cannot be written, or was changed by another program (unless ``overwrite``).
        """
        for document in self.unsaved:
            expected = None if overwrite else self._digests.get(document.path)
            write_document(document, expected_digest=expected)
            self._digests[document.path] = digest(document.path)
            if self._owns_drafts:
                drop_draft(document.path)
            self._saved = tuple(
                document if saved.path == document.path else saved for saved in self._saved
            )
        self.undo_stack.setClean()
        self._drafts.stop()

    def keep_drafts(self) -> bool:
        """Write unsaved work beside the recipes, so that a crash costs nothing.

        Returns whether all unsaved work is safe. While another window has the set, the drafts are
        that window's, and none is touched here.
        """
        self._drafts.stop()
        if not self._owns_drafts:
            return not self.unsaved
        try:
            for now, saved in zip(self._documents, self._saved, strict=True):
                if now != saved:
                    write_draft(now)
                else:
                    drop_draft(now.path)
        except BadInput as problem:
            logger.info("draft not kept: %s", problem)
            self.notice.emit(f"Unsaved work could not be kept as a draft. {problem}")
            return not self.unsaved
        return True

    def _restore_drafts(self) -> list[str]:
        restored = []
        if not self._owns_drafts:
            return []
        for index, document in enumerate(self._documents):
            draft = read_draft(document.path)
            if draft is None or draft == document:
                continue
            self._push(index, draft, f"Restore unsaved work on {draft.recipe.title}")
            restored.append(draft.recipe.title)
        if not restored:
            return []
        titles = ", ".join(restored)
        return [f"Unsaved work on {titles} was restored. Undo returns to the saved file."]

    # Working it out

    def _check(self, document: Document) -> None:
        """Raise BadInput if a document cannot be answered; keep what was built for it."""
        before = self.document
        batch = self._batch
        if batch is None or before is None or before.recipe != document.recipe:
            batch = weigh_recipe(document.recipe, self.foods, self.system)
        if self._optimiser is None or not self._optimiser.fits(batch, document.brief):
            self._optimiser = Optimiser(batch, document.brief, self.foods)
        problems = tuple(goal_problems(document.brief))
        if problems:
            raise BadInput(problems)
        self._batch = batch

    def headroom_grams(self, nutrient: str) -> float | None:
        """Return how much more the headroom of a goal moves [g]; None where it has none."""
        return self._headroom.get(nutrient)

    def want_measured(self, *, on: bool) -> None:
        """Show amounts a cook can measure, or the optimum in grams."""
        self.measured_wanted = on
        self._update_answer()
        self.answer_changed.emit()

    def _measure(self) -> None:
        """Work out the measured answer off this thread; the exact one stands until it comes."""
        answer = self.answer
        if answer is None or answer.measured is not None:
            return
        self._measurer.start(partial(measured_answer, answer, self.system))

    def _on_measured(self, result: object) -> None:
        if isinstance(result, Answer) and self.answer and result.optimum is self.answer.optimum:
            self.answer = result
            self.answer_changed.emit()

    def _update_answer(self) -> None:
        self.answer, self.problems = None, ()
        self._measurer.cancel()
        if self.measured_wanted:
            self._rest.start()
        document = self.document
        if document is None:
            return
        try:
            if self._batch is None or self._batch.recipe != document.recipe:
                self._batch = weigh_recipe(document.recipe, self.foods, self.system)
            if self._optimiser is None or not self._optimiser.fits(self._batch, document.brief):
                self._optimiser = Optimiser(self._batch, document.brief, self.foods)
            self.answer = self._optimiser.answer(document.brief)
            self._headroom = {
                cost.goal.nutrient: cost.grams
                for cost in headroom_costs(self._batch, document.brief, self.foods)
            }
        except BadInput as error:
            self.problems = error.problems
        except ReformulateError as error:
            self.problems = (Problem("", str(error), "Change a goal or a hold and try again."),)


def _names_in(folder: Path) -> set[str]:
    """Return the names a new recipe's file must not have: those of files and of unsaved work."""
    try:
        names = {entry.name for entry in folder.iterdir()}
    except OSError:
        return set()  # writing says what is wrong with the folder
    drafts = {name[1:] for name in names if name.startswith(".")}
    return names | {name.replace(".draft.toml", ".toml") for name in drafts}

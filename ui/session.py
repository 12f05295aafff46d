"""The one bridge between core and widgets."""

from __future__ import annotations

import logging
from collections.abc import Callable, Hashable, Sequence
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
    Document,
    FoodStore,
    FoodTable,
    Holder,
    MeasureSystem,
    OwnFood,
    Problem,
    Recipe,
    RecipeSet,
    SetLock,
    chain_problems,
    digest,
    document_name,
    drop_draft,
    food_from_recipe,
    own_key,
    read_draft,
    read_set,
    remember_matches,
    starting_brief,
    taken_names,
    unread_keys,
    unread_own_food_keys,
    write_document,
    write_draft,
)
from ui.answers import Answers
from ui.foods_at_hand import FoodsAtHand
from ui.undo import ReplaceDocument
from ui.work import Work

logger = logging.getLogger(__name__)

Edit = Callable[[Document], Document]

DRAFT_DELAY = 800
"""After this long at rest unsaved work is kept beside the recipe [ms]."""


class Session(QObject):
    """Holds the open set and the recipe on screen; every change goes through ``edit``."""

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
        self._at_hand = FoodsAtHand(foods, store)
        self.answers = Answers(self._at_hand, self)
        self.answers.followed.connect(self.answer_changed)
        self.answers.failed.connect(
            lambda words: self.notice.emit(f"Amounts to measure were not found. {words}")
        )
        self.undo_stack = QUndoStack(self)
        self.recipe_set: RecipeSet | None = None
        self._documents: tuple[Document, ...] = ()
        self._saved: tuple[Document, ...] = ()
        self._digests: dict[Path, str] = {}
        self._current = 0
        self._lock: SetLock | None = None
        self._owns_drafts = True
        self._drafts = QTimer(self)
        self._drafts.setSingleShot(True)
        self._drafts.setInterval(DRAFT_DELAY)
        self._drafts.timeout.connect(self.keep_drafts)

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
    def answer(self) -> Answer | None:
        """The answer on screen, or None while there is none."""
        return self.answers.answer

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Why there is no answer."""
        return self.answers.problems

    @property
    def batch(self) -> Batch | None:
        """The recipe on screen, weighed; None while it cannot be."""
        return self.answers.batch

    @property
    def foods(self) -> FoodTable:
        """The foods at hand."""
        return self._at_hand.table

    @property
    def own_foods(self) -> tuple[OwnFood, ...]:
        """The set's own foods."""
        return self._at_hand.own

    @property
    def store(self) -> FoodStore | None:
        """The user's imported foods; None where they cannot be had."""
        return self._at_hand.store

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
        wrong = self._at_hand.open(folder, opened.prices, self.system)
        self._documents = self._saved = opened.documents
        self._digests = {document.path: digest(document.path) for document in opened.documents}
        self._current = 0
        self.undo_stack.clear()
        self.set_changed.emit()
        restored = self._restore_drafts()
        self.show_document(0)
        unread = [problem for one in opened.documents for problem in unread_keys(one.path)]
        if self.own_foods:
            unread += unread_own_food_keys(folder)
        recipes = {document.path.name: document.recipe for document in opened.documents}
        chains = chain_problems(recipes, self.own_foods)
        words = " ".join([*restored, *(str(problem) for problem in (*unread, *wrong, *chains))])
        if words:
            self.notice.emit(words)
        return holder

    def add_own_food(self, food: OwnFood) -> None:
        """Keep a food of the user's own in the set, and have it at hand.

        Raises
        ------
        FileProblem
            If the set's file of own foods cannot be written.
        """
        if self.recipe_set is None:
            return
        self._at_hand.keep_own(self.recipe_set.folder, food)
        self.show_answer_anew()

    def show_answer_anew(self) -> None:
        """Answer the recipe on screen from the ground up: foods have changed."""
        self.answers.start_over(self.system)
        self.answers.update(self.document)
        self.answer_changed.emit()

    def recipe_as_food(self) -> OwnFood | None:
        """Keep the recipe on screen as a food of the set, for use in another; None while it cannot be.

        Raises
        ------
        BadInput
            If a dish would contain itself, or the file of own foods cannot be written.
        """
        document, batch = self.document, self.batch
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

    def take_foods(self, keys: Sequence[str]) -> None:
        """Bring imported foods to the foods at hand; what is at hand already stays."""
        self._at_hand.take(keys)

    def all_foods(self) -> FoodTable:
        """Return what a search of all foods looks through; slow the first time, on any thread."""
        return self._at_hand.all_to_search()

    def close_set(self) -> None:
        """Give the set back; unsaved work is kept as drafts, as far as that can be."""
        self.keep_drafts()
        self.answers.stop()
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
        path = opened.folder / document_name(recipe.title, taken_names(opened.folder))
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
        self.answers.start_over(self.system)
        self.answers.update(self.document)
        self.current_changed.emit()
        self.answer_changed.emit()

    def work_on(self, index: int) -> Work:
        """Return the work that answers any recipe of the set as it would be shown."""
        return self.answers.work_on(self._documents[index])

    def want_measured(self, *, on: bool) -> None:
        """Show amounts a cook can measure, or the optimum in grams."""
        self.answers.measured_wanted = on
        self.answers.update(self.document)
        self.answer_changed.emit()

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
                self.answers.check(after)
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
        self.answers.update(document)
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

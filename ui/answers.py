"""The answer to the recipe on screen: exact at once, measured once the hand rests."""

from __future__ import annotations

import logging
from functools import partial

from PySide6.QtCore import QObject, QTimer, Signal

from reformulate import (
    Answer,
    BadInput,
    Batch,
    Conflict,
    Document,
    MeasureSystem,
    Optimiser,
    Problem,
    ReformulateError,
    Stopped,
    find_conflict,
    goal_problems,
    headroom_costs,
    measured_answer,
    weigh_recipe,
)
from ui.foods_at_hand import FoodsAtHand
from ui.work import Progress, Work, Worker

logger = logging.getLogger(__name__)

MEASURE_DELAY = 60
"""After this long at rest the measured answer is worked out [ms]: it stands within 150 ms of rest."""


class Answers(QObject):
    """Weighs a recipe, keeps its warm optimiser, and answers its brief.

    The exact answer is worked out at once on each change: a live move takes a few milliseconds, less
    than a frame, so the window never shows one brief beside another's answer. What takes longer
    follows from another thread.
    """

    followed = Signal()
    """The measured answer, or the cost of headroom, has come."""
    failed = Signal(str)
    """Why no measured amounts were found."""

    def __init__(self, foods: FoodsAtHand, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._foods = foods
        self._system: MeasureSystem | None = None
        self._optimiser: Optimiser | None = None
        self._document: Document | None = None
        self.batch: Batch | None = None
        """The recipe on screen, weighed; None while it cannot be."""
        self.answer: Answer | None = None
        self.problems: tuple[Problem, ...] = ()
        """Why there is no answer."""
        self.headroom: dict[str, float] = {}
        """How much more the headroom of each goal that has some moves [g]."""
        self.measured_wanted = True
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(MEASURE_DELAY)
        self._rest.timeout.connect(self._follow)
        self.measurer = Worker(self)
        self.measurer.done.connect(self.take_measured)
        self.measurer.failed.connect(self.failed)

    def start_over(self, system: MeasureSystem) -> None:
        """Forget what was built: another recipe, other measures or other foods."""
        self._system = system
        self.batch = self._optimiser = None

    def check(self, document: Document) -> None:
        """Raise BadInput if a document cannot be answered; keep what was built for it."""
        problems = tuple(goal_problems(document.brief))
        if problems:
            raise BadInput(problems)
        self._build(document)

    def update(self, document: Document | None) -> None:
        """Answer a document; what is wrong with it is in ``problems``."""
        self.stop()
        self.answer, self.problems, self._document = None, (), document
        if document is None:
            return
        try:
            self.answer = self._build(document).answer(document.brief)
        except BadInput as error:
            self.problems = error.problems
        except ReformulateError as error:
            self.problems = (Problem("", str(error), "Change a goal or a hold and try again."),)
        self._rest.start()

    def stop(self) -> None:
        """Let nothing follow any more."""
        self._rest.stop()
        self.measurer.cancel()

    def take_measured(self, result: object) -> None:
        """Show a measured answer, unless it is of another optimum than the one on screen."""
        if isinstance(result, Answer) and self.answer and result.optimum is self.answer.optimum:
            self.answer = result
            self.followed.emit()

    def work_on(self, document: Document) -> Work:
        """Return the work that answers any document as it would be shown; None where it cannot be."""
        self._foods.take_for(document)
        foods, system, measured = self._foods.table, self._system, self.measured_wanted

        def work(progress: Progress) -> object:
            if system is None:
                return None
            try:
                batch = weigh_recipe(document.recipe, foods, system)
                answer = Optimiser(batch, document.brief, foods).answer(document.brief, reach=False)
                return measured_answer(answer, system, progress) if measured else answer
            except Stopped:
                raise
            except ReformulateError:
                return None

        return work

    def work_on_conflict(self) -> Work:
        """Return the work that finds why the brief on screen cannot be met; None where it can."""
        batch, document, foods = self.batch, self._document, self._foods.table

        def work(_progress: Progress) -> Conflict | None:
            if batch is None or document is None:
                return None
            try:
                return find_conflict(batch, document.brief, foods)
            except ReformulateError as error:
                logger.info("no reason found for the conflict: %s", error)
                return None

        return work

    def _build(self, document: Document) -> Optimiser:
        """Return the warm optimiser for a document, the last one where that fits."""
        if self._system is None:
            raise BadInput(Problem("", "No set is open.", "Open a set first."))
        self._foods.take_for(document)
        batch = self.batch
        if batch is None or batch.recipe != document.recipe:
            batch = weigh_recipe(document.recipe, self._foods.table, self._system)
        if self._optimiser is None or not self._optimiser.fits(batch, document.brief):
            self._optimiser = Optimiser(batch, document.brief, self._foods.table)
        self.batch = batch
        return self._optimiser

    def _follow(self) -> None:
        """At rest: the cost of headroom, and the measured answer off this thread."""
        answer, system = self.answer, self._system
        if answer is None or system is None:
            return
        before = self.headroom
        costs = headroom_costs(answer.batch, answer.brief, self._foods.table)
        self.headroom = {cost.goal.nutrient: cost.grams for cost in costs}
        if self.headroom != before:
            self.followed.emit()
        if self.measured_wanted and answer.measured is None:
            self.measurer.start(partial(measured_answer, answer, system))

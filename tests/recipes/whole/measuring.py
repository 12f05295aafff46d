"""How well whole recipes are taken in: ``python -m tests.recipes.whole.measuring [FOLDER] [--misses]``."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from math import isclose

from reformulate.foods import food_table
from reformulate.measures import SYSTEMS
from reformulate.recipes import weigh_recipe
from reformulate.recipes.review import Finding, review
from reformulate.recipes.taking_in import (
    Intake,
    IntakeLine,
    Question,
    Topic,
    answered,
    open_questions,
    read_source_file,
    recipe_of,
    take_in,
    with_food,
    with_servings,
    with_title,
)
from tests.recipes.corpus import words_of
from tests.recipes.whole.expected import ExpectedLine, ExpectedRecipe, WholeText, texts

FOODS = food_table()
_ASKS_FOOD = {Topic.FOOD, Topic.LINE}
_ASKS_AMOUNT = {Topic.AMOUNT, Topic.LINE}

Pair = tuple[ExpectedLine | None, IntakeLine | None]


@dataclass
class Tally:
    """Counts over several recipes, and what went wrong in words."""

    recipes: int = 0
    lines: int = 0
    with_food: int = 0
    """Expected lines for which the table has a food."""
    right: Counter[str] = field(default_factory=Counter)
    """Recipes right in title, servings, line count, step count; lines right in each part."""
    wrong_foods: list[str] = field(default_factory=list)
    """Foods answered wrongly, or lines that are none, without a question."""
    wrong_amounts: list[str] = field(default_factory=list)
    """Amounts read wrongly without a question."""
    asked: int = 0
    needless: list[str] = field(default_factory=list)
    """Lines asked about their food although the text tells it."""
    planted: int = 0
    found: int = 0
    """Planted errors that the review found."""
    false_alarms: list[str] = field(default_factory=list)
    misses: list[str] = field(default_factory=list)

    def check(self, name: str, ok: bool, said: str) -> None:
        """Count what is right, say what is not."""
        self.right[name] += ok
        if not ok:
            self.misses.append(f"{name}: {said}")


def measure(wholes: Sequence[WholeText]) -> Tally:
    """Take in every text and compare it with what a person reads in it."""
    tally = Tally()
    for whole in wholes:
        sources = read_source_file(whole.path)
        name = whole.path.name
        for number, recipe in enumerate(whole.recipes):
            tally.recipes += 1
            if number < len(sources):
                system = SYSTEMS[recipe.measures]
                _compare(tally, name, take_in(sources[number], FOODS, system), recipe)
            else:
                tally.misses.append(f"recipe: {name} {number + 1} is missing")
                tally.lines += len(recipe.lines)
        for source in sources[len(whole.recipes) :]:
            tally.misses.append(f"recipe: {name} has one too many, {source.title!r}")
    return tally


def _compare(tally: Tally, name: str, intake: Intake, recipe: ExpectedRecipe) -> None:
    tally.check("title", intake.title in recipe.titles, f"{name}: {intake.title!r}")
    tally.check("servings", intake.servings == recipe.servings, f"{name}: {intake.servings}")
    count = len(intake.lines)
    tally.check("line count", count == len(recipe.lines), f"{name}: {count}")
    steps = intake.steps
    tally.check("step count", len(steps) in recipe.steps, f"{name}: {len(steps)} {steps}")
    pairs = aligned(recipe.lines, intake.lines)
    for expected, read in pairs:
        _compare_line(tally, name, expected, read)
    _compare_review(tally, name, intake, recipe, pairs)


def _compare_line(
    tally: Tally, name: str, expected: ExpectedLine | None, read: IntakeLine | None
) -> None:
    if expected is None:
        assert read is not None
        where = f"{name}: {read.written!r} taken for a line: {read.food}"
        tally.misses.append(f"extra: {where}")
        if not asks(read, _ASKS_FOOD):
            tally.wrong_foods.append(where)
        return
    tally.lines += 1
    tally.with_food += bool(expected.keys)
    if read is None:
        tally.misses.append(f"missing: {name}: {expected.food}")
        return
    said = f"{name}: {read.written!r}"
    amount = _same_amount(read, expected)
    words = _same_words(read, expected)
    shown = f"{read.read.quantity} {read.read.unit or read.read.unit_text!r}"
    tally.check("amount", amount, f"{said} -> {shown}")
    tally.check("words", words, f"{said} -> {read.read.food_text!r} / {read.read.match_text!r}")
    if not amount and not asks(read, _ASKS_AMOUNT):
        tally.wrong_amounts.append(f"{said} -> {shown}")
    asked = asks(read, _ASKS_FOOD)
    tally.asked += asked
    if asked and not expected.ask:
        tally.needless.append(f"needless: {said} -> {read.match.why}")
    if expected.keys:
        tally.check("first", read.food in expected.keys, f"{said} -> {read.food}")
    tally.right["whole"] += amount and words
    if not asked and (expected.ask or read.food not in expected.keys):
        tally.wrong_foods.append(f"{said} -> {read.food}")


def asks(line: IntakeLine, topics: set[Topic]) -> bool:
    """Whether a person is asked about one of the topics."""
    return any(question.topic in topics for question in line.questions)


def _same_amount(read: IntakeLine, expected: ExpectedLine) -> bool:
    quantity = read.read.quantity
    found = quantity if isinstance(quantity, tuple) else () if quantity is None else (quantity,)
    unit = read.read.unit or read.read.unit_text.lower()
    if expected.unit not in {"", "piece"} and {found, expected.quantity} <= {(), (1.0,)}:
        return unit == expected.unit  # "pinch of salt": one is meant
    return (unit == expected.unit or {unit, expected.unit} == {"", "piece"}) and _close(
        found, expected.quantity
    )


def _close(found: Sequence[float], wanted: Sequence[float]) -> bool:
    return len(found) == len(wanted) and all(map(isclose, found, wanted))


def _same_words(read: IntakeLine, expected: ExpectedLine) -> bool:
    """Whether the words of the food are all there, and none but those that describe it."""
    wanted, core, whole = (
        words_of(text) - Counter({"of": 9})
        for text in (expected.food, read.read.food_text, read.read.match_text)
    )
    return bool(core) and not core - wanted and not wanted - (whole | core)


def aligned(expected: Sequence[ExpectedLine], read: Sequence[IntakeLine]) -> list[Pair]:
    """Put the lines that mean the same beside each other, in order."""
    best: dict[tuple[int, int], tuple[float, list[Pair]]] = {(0, 0): (0.0, [])}
    for i in range(len(expected) + 1):
        for j in range(len(read) + 1):
            ways = []
            if i:
                score, pairs = best[i - 1, j]
                ways.append((score, [*pairs, (expected[i - 1], None)]))
            if j:
                score, pairs = best[i, j - 1]
                ways.append((score, [*pairs, (None, read[j - 1])]))
            if i and j:
                score, pairs = best[i - 1, j - 1]
                alike = _alike(expected[i - 1], read[j - 1])
                if alike:
                    ways.append((score + alike, [*pairs, (expected[i - 1], read[j - 1])]))
            if ways:
                best[i, j] = max(ways, key=lambda way: way[0])
    return best[len(expected), len(read)][1]


def _alike(expected: ExpectedLine, read: IntakeLine) -> float:
    wanted = words_of(expected.food)
    written = words_of(f"{read.read.text} {read.read.food_text} {read.read.match_text}")
    named = words_of(f"{read.read.food_text} {read.read.match_text}")
    share = (wanted & written).total() / max(1, wanted.total())
    own = (wanted & named).total() / max(1, wanted.total())
    return share + own + (share > 0) * 0.1 * _same_amount(read, expected)


def _compare_review(
    tally: Tally, name: str, intake: Intake, recipe: ExpectedRecipe, pairs: Sequence[Pair]
) -> None:
    tally.planted += len(recipe.planted)
    intake = _settled(intake, pairs)
    if not intake.counted:
        return
    system = SYSTEMS[recipe.measures]
    findings = review(weigh_recipe(recipe_of(intake), FOODS, system), FOODS, system)
    left = list(recipe.planted)
    for finding in findings:
        hit = next((one for one in left if _is_planted(finding, one)), None)
        if hit is not None:
            left.remove(hit)
        elif not any(_is_planted(finding, one) for one in (*recipe.planted, *recipe.fair)):
            tally.false_alarms.append(f"{name}: {finding.kind}: {finding}")
    tally.found += len(recipe.planted) - len(left)
    tally.misses.extend(f"planted: {name}: {one} not found" for one in left)


def _is_planted(finding: Finding, planted: tuple[str, str]) -> bool:
    kind, word = planted
    return finding.kind == kind and word in f"{finding.where} {finding.what}"


def _settled(intake: Intake, pairs: Sequence[Pair]) -> Intake:
    """Answer every question: foods as a person would, the rest by the first on offer."""
    wanted = {
        place: min(expected.keys)
        for place, expected in _places(intake, pairs)
        if expected.keys and intake.lines[place].food not in expected.keys
    }
    for place, food in wanted.items():
        intake = with_food(intake, place, food)
    while questions := open_questions(intake):
        intake = _answer(intake, questions[0])
    return intake


def _places(intake: Intake, pairs: Sequence[Pair]) -> list[tuple[int, ExpectedLine]]:
    places = {id(line): place for place, line in enumerate(intake.lines)}
    return [(places[id(line)], wanted) for wanted, line in pairs if wanted and line]


def _answer(intake: Intake, question: Question) -> Intake:
    if question.choices:
        return answered(intake, question, question.choices[0])
    if question.topic is Topic.SERVINGS:
        return with_servings(intake, 8)
    return with_title(intake, "A title")


def said(batch: str, tally: Tally) -> str:
    """Say the figures of a batch in words."""

    def share(name: str, of: int) -> str:
        return f"  {name:<12} {tally.right[name]:>4}/{of} = {tally.right[name] / of:.1%}"

    rows = [f"{batch}: {tally.recipes} recipes, {tally.lines} lines"]
    rows += [
        share(name, tally.recipes) for name in ("title", "servings", "line count", "step count")
    ]
    rows += [share(name, tally.lines) for name in ("amount", "words", "whole")]
    rows.append(share("first", tally.with_food))
    rows.append(f"  foods wrong without a question {len(tally.wrong_foods)}")
    rows.append(f"  amounts wrong without a question {len(tally.wrong_amounts)}")
    rows.append(f"  asked about the food {tally.asked}, needlessly {len(tally.needless)}")
    rows.append(f"  planted errors found {tally.found}/{tally.planted}")
    rows.append(f"  false alarms {len(tally.false_alarms)}")
    return "\n".join(rows)


def main(show: Callable[[str], object] = sys.stdout.write) -> None:
    """Print the figures of one folder or of all."""
    batches = [word for word in sys.argv[1:] if not word.startswith("--")]
    for batch in batches or ["first", "unseen"]:
        tally = measure(texts(batch))
        show(said(batch, tally) + "\n")
        if "--misses" in sys.argv:
            for row in (*tally.misses, *tally.needless):
                show(f"    {row}\n")
            for row in tally.wrong_foods:
                show(f"    WRONG FOOD {row}\n")
            for row in tally.wrong_amounts:
                show(f"    WRONG AMOUNT {row}\n")
            for row in tally.false_alarms:
                show(f"    FALSE ALARM {row}\n")


if __name__ == "__main__":
    main()

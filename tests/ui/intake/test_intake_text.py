"""The text of a recipe taken in: pages, files and long texts, and nothing typed or answered is lost."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt

from reformulate import read_document
from tests.ui.intake.conftest import MESSY, PAGE, Cook
from ui.intake_lines import AMOUNT


def test_nothing_is_lost_when_the_dialog_is_closed(cook: Cook) -> None:
    cook.paste(MESSY)
    cook.answer("How much salt?")
    left = [card.question.words for card in cook.cards]
    cook.qtbot.keyClick(cook.dialog, Qt.Key.Key_Escape)
    assert not cook.dialog.isVisible()
    again = cook.open()
    assert again.text.text == MESSY
    assert [card.question.words for card in cook.cards] == left
    cook.qtbot.keyClick(cook.dialog, Qt.Key.Key_Escape)
    cook.person.window.change_setting(text_size=130)
    larger = cook.open()
    assert larger is not again
    assert larger.text.text == MESSY
    assert [card.question.words for card in cook.cards] == left
    cook.person.window.change_setting(text_size=100)


def test_starting_anew_can_be_undone(cook: Cook) -> None:
    cook.paste(MESSY)
    cook.qtbot.mouseClick(cook.dialog.text.anew, Qt.MouseButton.LeftButton)
    assert cook.dialog.text.text == ""
    assert not cook.cards
    with cook.qtbot.waitSignal(cook.dialog.read):
        cook.dialog.text.field.undo()
    assert cook.dialog.text.text == MESSY
    assert cook.cards


def test_answers_stay_while_the_text_is_corrected(cook: Cook) -> None:
    cook.paste(MESSY)
    cook.answer("How much salt?", 2)
    salt = cook.cell("salt)", AMOUNT)
    with cook.qtbot.waitSignal(cook.dialog.read):
        cook.dialog.text.field.moveCursor(cook.dialog.text.field.textCursor().MoveOperation.Start)
        cook.dialog.text.field.insertPlainText("Hello!\n")
    assert cook.cell("salt)", AMOUNT) == salt
    assert not any("How much salt?" in card.question.words for card in cook.cards)


def test_a_page_with_several_recipes_is_asked_about(
    cook: Cook, tmp_path: Path, demo_folder: Path
) -> None:
    page = tmp_path / "page.html"
    page.write_text(PAGE, encoding="utf-8")
    with cook.qtbot.waitSignal(cook.dialog.read):
        cook.dialog.open_file(page)
    (card,) = cook.cards
    assert "2 recipes" in card.question.words
    assert not cook.dialog.add.isEnabled()
    cook.answer("2 recipes")
    assert cook.dialog.page.title.text() == "Herb bowl"
    assert "1 cup hummus" in cook.dialog.text.text
    assert cook.dialog.text.other.isVisible()
    cook.qtbot.mouseClick(cook.dialog.add, Qt.MouseButton.LeftButton)
    assert dict(read_document(demo_folder / "herb-bowl.toml").recipe.claims) == {
        "energy_kcal": 60.0
    }


def test_a_page_pasted_as_its_source_is_shown_as_a_recipe(cook: Cook) -> None:
    cook.paste(
        PAGE.replace('[{"@type"', '{"@type"', 1).split(',\n {"@type"')[0] + "</script></html>"
    )
    assert cook.dialog.text.text.startswith("Herb bowl\nServes 6\n")
    assert cook.dialog.page.title.text() == "Herb bowl"


def test_another_recipe_pasted_over_a_page_takes_none_of_its_claims(
    cook: Cook, tmp_path: Path
) -> None:
    page = tmp_path / "page.html"
    page.write_text(PAGE, encoding="utf-8")
    with cook.qtbot.waitSignal(cook.dialog.read):
        cook.dialog.open_file(page)
    cook.answer("2 recipes")
    field = cook.dialog.text.field
    corrected = field.toPlainText().replace("2 tbsp dill", "3 tbsp dill")
    for text, claims in ((corrected, 1), ("Bowl\nServes 4\n\n1 cup feta\n", 0)):
        field.selectAll()
        cook.paste(text)
        intake = cook.dialog.intake
        assert intake is not None
        assert len(intake.claims) == claims


def test_what_is_typed_while_a_long_text_is_read_is_not_lost(cook: Cook) -> None:
    rows = "\n".join(f"{i} cups sour cream" for i in range(1, 500))
    cook.dialog.text.field.insertPlainText(f"Much\nServes 4\n\n{rows}\n")
    with cook.qtbot.waitSignal(cook.dialog.worker.busy_changed):
        pass
    cook.dialog.text.field.insertPlainText("1 cup hummus")
    with cook.qtbot.waitSignal(cook.dialog.worker.done, timeout=20_000):
        pass
    assert cook.dialog.text.text.endswith("1 cup hummus")


def test_a_file_that_cannot_be_read_is_told(cook: Cook, tmp_path: Path) -> None:
    with cook.qtbot.waitSignal(cook.dialog.worker.failed):
        cook.dialog.open_file(tmp_path / "nowhere.txt")
    assert "no such file" in cook.said("intake problem")


def test_a_long_text_is_read_off_the_windows_thread(cook: Cook) -> None:
    rows = "\n".join(f"{i} cups sour cream" for i in range(1, 500))
    with cook.qtbot.waitSignal(cook.dialog.worker.done, timeout=20_000):
        cook.dialog.text.field.insertPlainText(f"Much\nServes 4\n\n{rows}\n")
    assert cook.dialog.page.view.table.rowCount() == 499

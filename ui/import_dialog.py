"""Bring a release of foods the user has downloaded into the store; shows progress, can be cancelled."""

from __future__ import annotations

from pathlib import Path
from threading import Event

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QVBoxLayout,
    QWidget,
)

from reformulate import FoodStore, Imported, import_release
from ui.widgets import muted_label, named, tool_button
from ui.work import Progress, Worker

ABOUT = (
    "Choose a download of the Standard Reference (its folder or zip, or the abbreviated file) or of "
    "FoodData Central (its CSV folder or zip, or a JSON file). Its foods can then be searched beside the "
    "program's own. Nothing is fetched from the network. All of a download comes in, or nothing."
)


class ImportDialog(QDialog):
    """Asks for a download, imports it off the window's thread, tells what came in."""

    imported = Signal(object)
    """The Imported."""

    def __init__(self, store: FoodStore, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Import foods")
        self.resize(520, 240)
        self._store = store
        self._given_up = Event()
        self.worker = Worker(self)
        self.worker.done.connect(self._on_done)
        self.worker.failed.connect(self._on_failed)

        about = QLabel(ABOUT)
        about.setWordWrap(True)
        self._file = tool_button("import file", "Choose a file …")
        self._folder = tool_button("import folder", "Choose a folder …")
        self._file.clicked.connect(lambda: self._choose(folder=False))
        self._folder.clicked.connect(lambda: self._choose(folder=True))
        self._bar = named(QProgressBar(), "import progress")
        self._bar.setRange(0, 1000)
        self._bar.setTextVisible(False)
        self.worker.progressed.connect(lambda part: self._bar.setValue(int(1000 * part)))
        self._bar.hide()
        self._words = named(muted_label(self._known()), "import words")
        self._words.setWordWrap(True)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        buttons = QDialogButtonBox()
        self._close = buttons.addButton(QDialogButtonBox.StandardButton.Close)
        self._cancel = buttons.addButton("Cancel import", QDialogButtonBox.ButtonRole.ActionRole)
        self._cancel.setObjectName("cancel import")
        self._cancel.hide()
        self._cancel.clicked.connect(self._on_cancelled)
        self._close.clicked.connect(self.reject)
        row = QHBoxLayout()
        row.addWidget(self._file)
        row.addWidget(self._folder)
        row.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(16, 16, 16, 16)
        layout.setSpacing(10)
        layout.addWidget(about)
        layout.addLayout(row)
        layout.addWidget(self._bar)
        layout.addWidget(self._words, 1)
        layout.addWidget(buttons)

    def bring(self, download: Path) -> None:
        """Import a file or folder."""
        target = self._store.path
        given_up = self._given_up = Event()

        def work(progress: Progress) -> object:
            going = True

            def tell(fraction: float, _words: str) -> None:
                nonlocal going
                going = progress(fraction)

            return import_release(
                download, target, progress=tell, cancel=lambda: given_up.is_set() or not going
            )

        self._show_busy(busy=True)
        self._words.setText(f"Importing {download.name} …")
        self.worker.start(work)

    def reject(self) -> None:
        """Close; an import that still runs is given up and leaves everything as it was."""
        self._given_up.set()
        self.worker.cancel()
        super().reject()

    def _choose(self, *, folder: bool) -> None:
        dialog = QFileDialog(self, "Import foods: choose the download")
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        if folder:
            dialog.setFileMode(QFileDialog.FileMode.Directory)
            dialog.setOption(QFileDialog.Option.ShowDirsOnly)
        else:
            dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(lambda path: self.bring(Path(path)))
        dialog.open()

    def _on_done(self, result: object) -> None:
        self._show_busy(busy=False)
        if not isinstance(result, Imported):
            self._words.setText(f"The import was given up; nothing has changed. {self._known()}")
            return
        lines = [f"{source.title}: {source.foods} foods." for source in result.sources]
        if result.replaced:
            lines.append(f"{result.replaced} foods of an earlier import made way.")
        lines += [f"Left out: {skipped}." for skipped in result.skipped[:5]]
        self._words.setText("\n".join(lines))
        self.imported.emit(result)

    def _on_failed(self, words: str) -> None:
        self._show_busy(busy=False)
        self._words.setText(f"Nothing was imported. {words}")

    def _on_cancelled(self) -> None:
        # It may have come to its end meanwhile: what happened is told once it is known.
        self._given_up.set()
        self._cancel.setEnabled(False)
        self._words.setText("Giving up …")

    def _show_busy(self, *, busy: bool) -> None:
        self._bar.setValue(0)
        self._bar.setVisible(busy)
        self._cancel.setVisible(busy)
        self._cancel.setEnabled(True)
        for button in (self._file, self._folder, self._close):
            button.setEnabled(not busy)

    def _known(self) -> str:
        sources = self._store.sources()
        if not sources:
            return "No foods are imported yet."
        return "Imported so far: " + "; ".join(f"{s.title}, {s.foods} foods" for s in sources) + "."

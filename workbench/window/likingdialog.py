"""Looks, sound and a pedal, asked for."""

from dataclasses import replace

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QKeySequenceEdit,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from workbench.window.bench.dialogs import ok_cancel
from workbench.window.look import Look
from workbench.window.parts import form_row, label
from workbench.window.settings import LONGEST_NAME, TEXT_SCALES, THEMES, Liking

THEME_WORDS = {"system": "as the system is", "light": "light", "dark": "dark"}


class LikingDialog(QDialog):
    """`liking` is what is wanted, once accepted."""

    def __init__(self, parent: QWidget, look: Look, liking: Liking, *, names: bool = True) -> None:
        """`names`: what the shop is called can be said."""
        super().__init__(parent)
        self._before = liking
        self.setWindowTitle("This bench")
        self.setMinimumWidth(look.sizes.px(460))
        self.shop = QLineEdit(liking.shop)
        self.shop.setMaxLength(LONGEST_NAME)
        self.shop.setPlaceholderText("as it stands above the counter")
        self.theme, self.scale = QComboBox(), QComboBox()
        self.theme.addItems([THEME_WORDS[t] for t in THEMES])
        self.theme.setCurrentIndex(THEMES.index(liking.theme))
        self.scale.addItems([f"{100 * s:.0f} %" for s in TEXT_SCALES])
        self.scale.setCurrentIndex(min(range(len(TEXT_SCALES)), key=lambda i: abs(TEXT_SCALES[i] - liking.text_scale)))
        self.tones = QCheckBox("A &tone for each verdict")
        self.tones.setAccessibleName("A tone for each verdict")
        self.tones.setChecked(liking.tones)
        self.moves = QCheckBox("The next pair p&ulses on the face")
        self.moves.setAccessibleName("The next pair pulses on the face")
        self.moves.setChecked(liking.moves)
        self.pedal = QKeySequenceEdit(QKeySequence(liking.pedal))
        self.pedal.setMaximumSequenceLength(1)
        clear = QPushButton("None")
        clear.setAutoDefault(False)
        clear.setAccessibleName("No pedal")
        clear.clicked.connect(self.pedal.clear)
        pedal = QHBoxLayout()
        pedal.addWidget(self.pedal, 1)
        pedal.addWidget(clear)
        form = QFormLayout()
        form_row(form, "S&hop's name", self.shop)
        form.setRowVisible(self.shop, names)
        form_row(form, "&Looks", self.theme)
        form_row(form, "Text &size", self.scale)
        form.addRow("", self.tones)
        form.addRow("", self.moves)
        caption = label("&Pedal's key", "caption")
        caption.setBuddy(self.pedal)
        self.pedal.setAccessibleName("Pedal's key")
        self.pedal.setAccessibleDescription("Press the key that the pedal sends; it does what Enter does")
        form.addRow(caption, pedal)
        column = QVBoxLayout(self)
        column.addWidget(label("This bench", "title"))
        column.addLayout(form)
        column.addWidget(label("The pedal's key does what Enter does in the field.", "quiet", wrap=True))
        column.addWidget(ok_cancel(self, "Keep"))

    @property
    def liking(self) -> Liking:
        return replace(
            self._before,
            theme=THEMES[self.theme.currentIndex()],
            text_scale=TEXT_SCALES[self.scale.currentIndex()],
            tones=self.tones.isChecked(),
            moves=self.moves.isChecked(),
            shop=self.shop.text().strip(),
            pedal=self.pedal.keySequence().toString(QKeySequence.SequenceFormat.PortableText),
        )

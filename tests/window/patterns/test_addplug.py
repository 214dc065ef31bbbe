"""A further plug is asked for: which side first, its shape shown as it changes, what can't be drawn said."""

import pytest
from PySide6.QtWidgets import QApplication, QDialogButtonBox, QMainWindow
from pytestqt.qtbot import QtBot

from tests.drafting.drawn import wired
from workbench.sitting.plugform import SHAPES, Shape
from workbench.window.look import Look
from workbench.window.patterns.addplug import AddPlugDialog
from workbench.window.theme import LIGHT, Sizes

OK = QDialogButtonBox.StandardButton.Ok


@pytest.fixture
def window(dressed: QApplication, qtbot: QtBot) -> QMainWindow:
    made = QMainWindow()
    qtbot.addWidget(made)
    made.resize(1366, 728)
    made.show()
    return made


@pytest.fixture
def dialog(window: QMainWindow) -> AddPlugDialog:
    made = AddPlugDialog(window, Look(LIGHT, Sizes()), wired())
    made.show()
    made.activateWindow()
    return made


def able(dialog: AddPlugDialog) -> bool:
    return dialog.buttons.button(OK).isEnabled()


def shape(dialog: AddPlugDialog, wanted: Shape) -> None:
    dialog.shape.setCurrentIndex([s for s, _ in SHAPES].index(wanted))


def test_the_side_is_asked_first_and_nothing_is_drawn_before_it_is_said(dialog: AddPlugDialog) -> None:
    assert dialog.focusWidget() is dialog.side
    assert dialog.name.text() == "Q"  # P is there
    assert not able(dialog)
    dialog.side.setCurrentIndex(1)
    assert able(dialog)
    assert not dialog.form.wire_side
    dialog.side.setCurrentIndex(2)
    assert dialog.form.wire_side


def test_the_picture_follows_what_is_asked_for(dialog: AddPlugDialog) -> None:
    dialog.side.setCurrentIndex(1)
    seen = []
    for wanted, counts in ((Shape.ROWS, "2+3"), (Shape.ROWS, "6"), (Shape.RING, "5"), (Shape.FREE, "5")):
        shape(dialog, wanted)
        dialog.counts.setText(counts)
        image = dialog.picture.grab().toImage()
        assert image not in seen
        seen.append(image)
    assert not dialog.counts.isEnabled()


@pytest.mark.parametrize(
    ("name", "counts", "said"),
    [("P", "2", "is there already"), ("a.b", "2", "without a dot"), ("Q", "", "how many"), ("Q", "2++3", "how many"),
     ("Q", "0", "1 to 20"), ("Q", "99", "1 to 20"), ("Q", "99999999999", "how many")],
)  # fmt: skip
def test_what_can_not_be_drawn_is_said_beside_it(dialog: AddPlugDialog, name: str, counts: str, said: str) -> None:
    dialog.side.setCurrentIndex(1)
    dialog.name.setText(name)
    dialog.counts.setText(counts)
    assert said in dialog.trouble.text()
    assert not able(dialog)

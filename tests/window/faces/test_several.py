"""Several plugs and the iron side by side in one face."""

import itertools
import math
from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, QRectF, QSize, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.sitting.plugs import BULLET, INLINE_3, ROUND_4, STAGGERED_5, THREE_ROWS_12, TWO_ROWS_6, plug
from workbench.sitting.faceplan import KEY_DOWN, View, face_plan
from workbench.stator.pattern import Connector
from workbench.window import theme
from workbench.window.faces.faceview import FaceView
from workbench.window.faces.nodebutton import NodeButton
from workbench.window.faces.plugtitle import PlugTitle
from workbench.window.faces.state import FaceState, Mark, Tone

PAIR = plug("L", [(0, 0), (1, 0)])
OTHER_BULLET = Connector("G", BULLET.cavities, None)
SETS = {
    "5 and 2": (STAGGERED_5, PAIR),
    "6, 4 and 2": (TWO_ROWS_6, plug("M", [(0, 1), (1, 1), (0, 0), (1, 0)]), PAIR),
    "12 and bullets": (THREE_ROWS_12, BULLET, OTHER_BULLET),
    "round and row": (ROUND_4, INLINE_3),
}
Plugs = tuple[Connector, ...]
Show = Callable[..., FaceView]


def state(plugs: Plugs, *marks: Mark, view: View = KEY_DOWN, picked: str = "", in_sight: int = 0) -> FaceState:
    plans = tuple(face_plan(c, view) for c in plugs)
    return FaceState(plans[in_sight], marks, frozenset(picked.split()), beside=plans)


@pytest.fixture
def show(dressed: QApplication, qtbot: QtBot) -> Show:
    def shown(told: FaceState, size: tuple[int, int] = (652, 470), scale: float = 1.0) -> FaceView:
        face = FaceView(text_scale=scale)
        qtbot.addWidget(face)
        face.resize(*size)
        face.set_state(told)
        with qtbot.waitExposed(face):
            face.show()
        face.activateWindow()
        qtbot.waitUntil(face.isActiveWindow)
        return face

    return shown


@pytest.mark.parametrize("view", [View(), View(1), View(0, True)], ids=["as is", "turned", "wires"])
@pytest.mark.parametrize("plugs", SETS.values(), ids=SETS)
def test_where_all_of_them_fit_every_cavity_is_44_px_and_nothing_overlaps(show: Show, plugs: Plugs, view: View) -> None:
    told = state(plugs, view=view)
    face = show(told)
    assert face.fits(told.plans, face.size())
    assert [b.node for b in face.buttons] == [*(n for c in plugs for n in c.nodes), "core"]
    every = [*face.buttons, *face.titles]
    for one, other in itertools.combinations(every, 2):
        assert not one.geometry().intersects(other.geometry()), (one.node, other.node)
    for b in face.buttons:
        assert face.rect().contains(b.geometry())
        assert min(b.width(), b.height()) >= 44
    for title in face.titles:
        assert face.rect().contains(title.geometry())
        own = [face.button(n) for c in plugs if c.name == title.node for n in c.nodes]
        assert all(title.geometry().bottom() < b.geometry().top() for b in own)


@pytest.mark.parametrize("scale", [1.0, 2.0])
@pytest.mark.parametrize("plugs", SETS.values(), ids=SETS)
def test_the_least_size_fits_and_a_little_less_does_not(show: Show, plugs: Plugs, scale: float) -> None:
    told = state(plugs)
    face = show(told, scale=scale)
    least = face.least_size(told.plans)
    assert face.fits(told.plans, least)
    assert not face.fits(told.plans, least - QSize(120, 120))
    face.resize(least)
    spots = {s.node: s for p in told.plans for s in p.spots}
    a, b = plugs[0].nodes[:2]
    px = math.dist(_centre(face, a), _centre(face, b))
    radius = px / math.dist((spots[a].x, spots[a].y), (spots[b].x, spots[b].y))
    assert 2 * radius >= 44 * min(1.5, scale) - 1


def _centre(face: FaceView, node: str) -> tuple[int, int]:
    at = face.button(node).geometry().center()
    return at.x(), at.y()


def _every_pair(plugs: Plugs, most: int) -> tuple[Mark, ...]:
    pairs = list(itertools.combinations([*(n for c in plugs for n in c.nodes), "core"], 2))
    step = max(1, len(pairs) // most)
    texts = itertools.cycle(("309", "97.4", "open", "1.2k"))
    return tuple(Mark(a, b, next(texts), Tone.OUT) for a, b in pairs[::step][:most])


@pytest.mark.parametrize("plugs", SETS.values(), ids=SETS)
def test_values_overlap_nothing_across_plugs_either(show: Show, plugs: Plugs) -> None:
    face = show(state(plugs, *_every_pair(plugs, 14)))
    boxes = [box for _, box in face.values]
    assert len(boxes) > 5
    for i, box in enumerate(boxes):
        assert QRectF(face.rect()).contains(box)
        assert not any(box.intersects(other) for other in boxes[:i])
        assert not any(box.intersects(QRectF(t.geometry())) for t in (*face.titles, face.ground, face.words))
        for b in face.buttons[:-1]:
            x, y = _centre(face, b.node)
            dx, dy = max(box.left() - x, 0, x - box.right()), max(box.top() - y, 0, y - box.bottom())
            assert math.hypot(dx, dy) >= b.width() / 2 - 6


def test_a_reading_across_two_plugs_is_a_line_from_pin_to_pin(show: Show) -> None:
    across = Mark("B.5", "L.1", "0.3", Tone.CONTINUOUS)
    face = show(state(SETS["5 and 2"], across))
    (drawn,) = face._lines.drawn.values()
    for point, node in ((drawn.route.start, "B.5"), (drawn.route.end, "L.1")):
        assert math.dist(point, _centre(face, node)) < 2
    assert [text for text, _ in face.values] == ["0.3"]
    (box,) = (box for _, box in face.values)
    left, right = sorted((_centre(face, "B.5")[0], _centre(face, "L.1")[0]))
    assert left < box.center().x() < right


def test_a_pin_of_any_plug_can_be_pressed(show: Show, qtbot: QtBot) -> None:
    face = show(state(SETS["5 and 2"]))
    heard: list[str] = []
    face.pinPressed.connect(heard.append)
    for node in ("L.2", "B.1", "core"):
        qtbot.mouseClick(face.button(node), Qt.MouseButton.LeftButton)
    assert heard == ["L.2", "B.1", "core"]


def test_the_plug_in_sight_is_marked_by_its_title_and_another_chosen_there_or_on_its_plastic(
    show: Show, qtbot: QtBot
) -> None:
    plugs = SETS["5 and 2"]
    face = show(state(plugs, in_sight=1))
    assert [t.isChecked() for t in face.titles] == [False, True]
    assert [t.accessibleDescription() for t in face.titles] == ["", "in sight"]
    assert [t.text() for t in face.titles] == ["Plug B", "Plug L"]
    heard: list[str] = []
    face.plugChosen.connect(heard.append)
    qtbot.mouseClick(face.titles[0], Qt.MouseButton.LeftButton)
    qtbot.keyClick(face.titles[1], Qt.Key.Key_Return)
    one, other = (face.button(n).geometry().center() for n in ("L.1", "L.2"))
    qtbot.mouseClick(face, Qt.MouseButton.LeftButton, pos=QPoint((one.x() + other.x()) // 2, one.y()))
    assert heard == ["B", "L", "L"]
    assert not face.title.isVisible()


def test_tab_goes_plug_by_plug_and_then_to_ground(show: Show, qtbot: QtBot) -> None:
    face = show(state(SETS["5 and 2"]))
    face.titles[0].setFocus()
    order = []
    for _ in range(10):
        at = face.focusWidget()
        assert isinstance(at, NodeButton)
        order.append(at.node)
        qtbot.keyClick(at, Qt.Key.Key_Tab)
    assert order[:-1] == ["B", "B.1", "B.2", "B.3", "B.4", "B.5", "L", "L.1", "L.2"]
    assert order[-1] == "core"


def test_arrows_walk_from_one_plug_to_the_next_and_back(show: Show, qtbot: QtBot) -> None:
    face = show(state(SETS["5 and 2"]))

    def go(start: str, *keys: Qt.Key) -> str:
        face.button(start).setFocus()
        for key in keys:
            at = face.focusWidget()
            assert at is not None
            qtbot.keyClick(at, key)
        at = face.focusWidget()
        assert isinstance(at, NodeButton)
        return at.node

    right, left, down = Qt.Key.Key_Right, Qt.Key.Key_Left, Qt.Key.Key_Down
    assert go("B.2", right) == "L.1"
    assert go("B.5", right) == "L.1"
    assert go("L.1", left) == "B.2"
    assert go("B.1", right, right, right) == "L.2"
    assert go("L.1", down) == "core"
    assert go("L.2", right) == "core"
    face.titles[0].setFocus()
    qtbot.keyClick(face.titles[0], right)
    assert face.titles[1].hasFocus()
    qtbot.keyClick(face.titles[1], down)
    assert face.button("L.1").hasFocus()


def test_what_all_share_is_said_once_and_what_differs_at_each(show: Show) -> None:
    face = show(state(SETS["5 and 2"]))
    assert face.words.text() == "looking into each mating side, keyed side down"
    assert face.accessibleName() == "Faces of plugs B and L"
    face.set_state(state(SETS["12 and bullets"]))
    assert face.words.text() == "looking into each mating side"
    assert [t.accessibleDescription() for t in face.titles] == ["in sight, keyed side down", "no key", "no key"]


def test_from_one_plug_to_all_and_back_pins_keep_the_focus(show: Show) -> None:
    told = state(SETS["5 and 2"])
    face = show(FaceState(told.plan))
    face.button("B.4").setFocus()
    face.set_state(told)
    assert face.button("B.4").hasFocus()
    face.set_state(FaceState(told.plan))
    assert face.button("B.4").hasFocus()
    assert [b.node for b in face.findChildren(NodeButton) if b.isVisible()] == [
        b.node for b in (face.ground, *face.buttons[:-1])
    ]
    assert not [t for t in face.findChildren(PlugTitle) if t.isVisible()]
    assert face.title.isVisible()


def test_a_value_stays_where_it_is_when_another_reading_comes(show: Show) -> None:
    """Placed anew, one of these would be moved by the line that comes."""
    pairs = (("B.2", "L.2"), ("B.3", "B.5"), ("B.2", "B.4"), ("B.4", "core"))
    first = [Mark(*pair, text, Tone.IN) for pair, text in zip(pairs, ("309", "12", "7", "97.4"), strict=True)]
    told = state(SETS["5 and 2"], *first, Mark("B.3", "core", "0.3", Tone.IN))
    face = show(state(SETS["5 and 2"], *first))
    before = dict(face.values)
    face.set_state(told)
    assert {t: b for t, b in face.values if t != "0.3"} == before
    assert len(face.values) == 5
    assert {t: b for t, b in show(told).values if t != "0.3"} != before


def test_dark_large_and_small(show: Show) -> None:
    face = show(state(SETS["5 and 2"], Mark("B.5", "L.1", "0.3")))
    face.set_theme(theme.DARK, 2.0)
    face.resize(1300, 660)
    assert all(face.rect().contains(b.geometry()) for b in (*face.buttons, *face.titles))
    assert not face.fits(state(SETS["12 and bullets"]).plans, QSize(400, 300))

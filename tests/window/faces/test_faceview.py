"""A face used as a hand, a keyboard and a screen reader use it."""

import math
from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QAccessible, QImage
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from tests.sitting.plugs import ALL, BULLET, ROUND_4, STAGGERED_5, THREE_ROWS_12, TWO_ROWS_6, plug
from workbench.sitting.faceplan import KEY_DOWN, View, face_plan
from workbench.stator.pattern import Connector, KeyShape, Side
from workbench.window import theme
from workbench.window.faces.body import body_path, scaled
from workbench.window.faces.faceview import FaceView
from workbench.window.faces.nodebutton import NodeButton
from workbench.window.faces.state import FaceState, Mark, Standing, Tone

Show = Callable[..., FaceView]


@pytest.fixture
def show(dressed: QApplication, qtbot: QtBot) -> Show:
    """A face of this plug on screen and active, 640 x 440."""

    def shown(
        connector: Connector, *marks: Mark, view: View = KEY_DOWN, picked: str = "", active: bool = True
    ) -> FaceView:
        face = FaceView()
        qtbot.addWidget(face)
        face.resize(640, 440)
        face.set_state(FaceState(face_plan(connector, view), marks, frozenset(picked.split()), active))
        with qtbot.waitExposed(face):
            face.show()
        face.activateWindow()
        qtbot.waitUntil(face.isActiveWindow)
        return face

    return shown


def presses(face: FaceView) -> list[str]:
    heard: list[str] = []
    face.pinPressed.connect(heard.append)
    return heard


def focused(face: FaceView) -> str:
    widget = face.focusWidget()
    return widget.node if isinstance(widget, NodeButton) else ""


def press(qtbot: QtBot, face: FaceView, *keys: Qt.Key) -> None:
    for key in keys:
        target = QApplication.focusWidget()
        assert target is not None
        qtbot.keyClick(target, key)


def test_a_click_on_a_pin_or_ground_tells_its_node(show: Show, qtbot: QtBot) -> None:
    face = show(STAGGERED_5)
    heard = presses(face)
    for node in ("B.3", "core", "B.3"):
        qtbot.mouseClick(face.button(node), Qt.MouseButton.LeftButton)
    assert heard == ["B.3", "core", "B.3"]


def test_a_press_picks_nothing_by_itself(show: Show, qtbot: QtBot) -> None:
    face = show(STAGGERED_5, picked="B.1")
    for node in ("B.1", "B.2", "core"):
        qtbot.mouseClick(face.button(node), Qt.MouseButton.LeftButton)
    assert [b.node for b in face.buttons if b.isChecked()] == ["B.1"]


@pytest.mark.parametrize("key", [Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter])
@pytest.mark.parametrize("node", ["B.4", "core"])
def test_space_and_enter_press_the_focused_one(show: Show, qtbot: QtBot, key: Qt.Key, node: str) -> None:
    face = show(STAGGERED_5)
    heard = presses(face)
    face.button(node).setFocus()
    press(qtbot, face, key)
    assert heard == [node]


def test_arrows_walk_to_neighbours_and_ground_lies_down_and_right(show: Show, qtbot: QtBot) -> None:
    face = show(STAGGERED_5)
    face.button("B.1").setFocus()
    walk = []
    up, down, left, right = Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Left, Qt.Key.Key_Right
    for key in (right, down, right, down, left, left, left, up, left):
        press(qtbot, face, key)
        walk.append(focused(face))
    assert walk[0] == "B.2"
    assert walk[1] in ("B.4", "B.5")
    assert walk[-6:-4] == ["core", "B.5"]
    assert walk[-4:-2] == ["B.4", "B.3"]
    assert walk[-2:] == ["B.1", "B.1"] or walk[-2:] == ["B.1", "B.3"]


def test_arrows_follow_what_is_seen_when_the_face_is_mirrored(show: Show, qtbot: QtBot) -> None:
    face = show(STAGGERED_5, view=View().flipped())
    face.button("B.3").setFocus()
    press(qtbot, face, Qt.Key.Key_Left)
    assert focused(face) == "B.4"


def test_tab_goes_through_the_pins_in_their_order_and_then_to_ground(show: Show, qtbot: QtBot) -> None:
    face = show(STAGGERED_5)
    face.button("B.1").setFocus()
    order = ["B.1"]
    for _ in range(5):
        press(qtbot, face, Qt.Key.Key_Tab)
        order.append(focused(face))
    assert order == ["B.1", "B.2", "B.3", "B.4", "B.5", "core"]
    press(qtbot, face, Qt.Key.Key_Backtab)
    assert focused(face) == "B.5"


def test_in_a_page_the_pins_come_where_the_face_stands(dressed: QApplication, qtbot: QtBot) -> None:
    """Pins are made late: when the plug changes, after all that the page holds below its face."""
    page = QWidget()
    qtbot.addWidget(page)
    layout = QVBoxLayout(page)
    above, face, below = QLineEdit(), FaceView(), QLineEdit()
    for w in (above, face, below):
        layout.addWidget(w)
    for plugged in (STAGGERED_5, TWO_ROWS_6):
        face.set_state(FaceState(face_plan(plugged)))
        order: list[QWidget] = []
        at = above.nextInFocusChain()
        while at is not below:
            order.append(at)
            at = at.nextInFocusChain()
        assert [w.node for w in order if isinstance(w, NodeButton)] == [*plugged.nodes, "core"]


def test_a_new_state_of_the_same_plug_keeps_the_focus(show: Show) -> None:
    face = show(STAGGERED_5)
    face.button("B.4").setFocus()
    face.set_state(FaceState(face_plan(STAGGERED_5, View(1)), (Mark("B.1", "B.2", "309"),), frozenset({"B.4"})))
    assert focused(face) == "B.4"
    assert face.button("B.4").hasFocus()


def test_another_plug_brings_its_own_pins(show: Show) -> None:
    face = show(STAGGERED_5)
    face.set_state(FaceState(face_plan(BULLET)))
    assert [b.node for b in face.buttons] == ["F.1", "core"]
    with pytest.raises(KeyError):
        face.button("B.1")
    visible = [b for b in face.findChildren(NodeButton) if b.isVisible()]
    assert {b.node for b in visible} == {"F.1", "core"}


def test_an_inactive_face_takes_no_picks(show: Show, qtbot: QtBot) -> None:
    face = show(STAGGERED_5, active=False)
    heard = presses(face)
    qtbot.mouseClick(face.button("B.1"), Qt.MouseButton.LeftButton)
    qtbot.mouseClick(face.ground, Qt.MouseButton.LeftButton)
    assert heard == []


def test_a_screen_reader_hears_pin_terminal_plug_state_and_readings(show: Show) -> None:
    face = show(
        STAGGERED_5,
        Mark("B.3", "B.1", "406", Tone.OUT),
        Mark("core", "B.3", "open", Tone.IN, Standing.PENDING),
        Mark("B.3", "A.2", "12 out", Tone.OUT),
        Mark("B.3", "B.5", standing=Standing.OFFERED),
        picked="B.3",
    )
    heard = QAccessible.queryAccessibleInterface(face.button("B.3"))
    assert heard.text(QAccessible.Text.Name) == "pin 3, socket, plug B"
    assert heard.text(QAccessible.Text.Description) == (
        "picked; 406 out to pin B 1; open in, not yet safe to ground; 12 out to pin A 2; offered next to pin B 5"
    )
    assert heard.role() == QAccessible.Role.CheckBox
    assert heard.state().checked
    other = QAccessible.queryAccessibleInterface(face.button("B.2"))
    assert other.text(QAccessible.Text.Name) == "pin 2, blade, plug B"
    assert not other.state().checked
    assert face.ground.accessibleName() == "ground, the iron"
    assert "to pin B 3" in face.ground.accessibleDescription()


@pytest.mark.parametrize("name", ["Press", "Toggle"])
@pytest.mark.parametrize("picked", ["", "B.5"])
def test_a_screen_reader_can_press_a_pin(show: Show, qtbot: QtBot, name: str, picked: str) -> None:
    face = show(STAGGERED_5, picked=picked)
    heard = presses(face)
    action = QAccessible.queryAccessibleInterface(face.button("B.5")).actionInterface()
    assert name in action.actionNames()
    action.doAction(name)
    qtbot.waitUntil(lambda: heard == ["B.5"])
    assert face.button("B.5").isChecked() is (picked == "B.5")


def test_the_face_says_in_words_which_side_is_seen(show: Show) -> None:
    face = show(TWO_ROWS_6)
    assert face.words.isVisible()
    assert face.words.text() == "looking into its mating side, keyed side down"
    face.set_state(FaceState(face_plan(TWO_ROWS_6, View().flipped())))
    assert face.words.text() == "from the wire side (mirrored), keyed side down"


@pytest.mark.parametrize("size", [(640, 440), (500, 320), (560, 700)])
@pytest.mark.parametrize("connector", ALL, ids=lambda c: c.name)
def test_every_cavity_is_at_least_44_px_and_nothing_is_cut(
    show: Show, connector: Connector, size: tuple[int, int]
) -> None:
    face = show(connector)
    face.resize(*size)
    for b in face.buttons:
        assert b.width() >= 44
        assert b.height() >= 44
        assert face.rect().contains(b.geometry())
        others = [o for o in face.buttons if o is not b]
        assert not any(b.geometry().intersects(o.geometry()) for o in others)
        assert not b.geometry().intersects(face.words.geometry())
        assert not b.geometry().intersects(face.title.geometry())


def test_the_least_size_still_leaves_44_px(show: Show) -> None:
    face = show(THREE_ROWS_12)
    face.resize(face.minimumSizeHint())
    radius = (face.button("E.2").x() - face.button("E.1").x()) / 3.6
    assert 2 * radius >= 43.5


def test_buttons_follow_a_resize_and_a_turn(show: Show) -> None:
    face = show(STAGGERED_5)
    before = face.button("B.5").geometry()
    face.resize(520, 330)
    smaller = face.button("B.5").geometry()
    assert smaller != before
    face.set_state(FaceState(face_plan(STAGGERED_5, View(2))))
    assert face.button("B.5").y() < face.button("B.1").y()


def image(face: FaceView, ratio: int = 1) -> QImage:
    made = QImage(face.size() * ratio, QImage.Format.Format_RGB32)
    made.setDevicePixelRatio(ratio)
    made.fill(Qt.GlobalColor.white)
    face.render(made, QPoint(0, 0))
    return made


@pytest.mark.parametrize("ratio", [1, 2])
def test_each_verdict_and_standing_looks_different_without_colour(show: Show, ratio: int) -> None:
    """Shape before colour: all in one ink, and without their words, the lines still differ."""
    one_ink = replace(theme.LIGHT, ink_of=theme.Verdicts(*[theme.LIGHT.ink] * 4))
    seen = []
    for tone in Tone:
        for standing in (Standing.KEPT, Standing.PENDING, Standing.OFFERED):
            if standing is Standing.OFFERED and tone is not Tone.PLAIN:
                continue
            face = show(STAGGERED_5, Mark("B.3", "B.2", "", tone, standing))
            face.set_theme(one_ink)
            seen.append((tone, standing, image(face, ratio)))
    same = {(Tone.IN, Tone.PLAIN), (Tone.PLAIN, Tone.IN)}
    for i, (tone, standing, one) in enumerate(seen):
        for other_tone, other_standing, other in seen[:i]:
            if standing is other_standing and (tone, other_tone) in same:
                continue  # a plain line has no verdict to tell; its value has no word either
            assert one != other, (tone, standing, other_tone, other_standing)


def test_a_blade_and_a_socket_look_different(show: Show) -> None:
    pictures = [image(show(plug("A", [(0, 0)], sockets=sockets))) for sockets in ("", "1")]
    assert pictures[0] != pictures[1]


@pytest.mark.parametrize("connector", [STAGGERED_5, ROUND_4], ids=lambda c: c.name)
@pytest.mark.parametrize("turns", range(4))
def test_tab_rib_and_flat_are_drawn_differently_and_each_says_key(show: Show, connector: Connector, turns: int) -> None:
    faces = [show(replace(connector, key_shape=s), view=View(turns)) for s in KeyShape]
    pictures = [image(f) for f in faces]
    assert pictures[0] != pictures[1] != pictures[2] != pictures[0]


def test_a_flat_side_has_sharp_corners_and_a_round_face_a_chord() -> None:
    for connector in (STAGGERED_5, ROUND_4):
        for turns in range(4):
            plan = face_plan(replace(connector, key_shape=KeyShape.FLAT), View(turns))
            path = body_path(plan, QPointF(), 40)
            assert plan.key is not None
            assert plan.key_box is not None
            box = scaled(plan.key_box, QPointF(), 40)
            beyond = {
                Side.BOTTOM: QPointF(box.center().x(), box.bottom() + 2),
                Side.TOP: QPointF(box.center().x(), box.top() - 2),
                Side.LEFT: QPointF(box.left() - 2, box.center().y()),
                Side.RIGHT: QPointF(box.right() + 2, box.center().y()),
            }[plan.key]
            assert path.contains(box.center())
            assert not path.contains(beyond)
            if not plan.round:
                body = scaled(plan.body, QPointF(), 40).adjusted(1, 1, -1, -1)
                corners = (body.topLeft(), body.topRight(), body.bottomLeft(), body.bottomRight())
                assert sum(path.contains(c) for c in corners) == 2
                # and straight from there on: no bump where the round corner would have ended
                sharp = [c for c in corners if path.contains(c)]
                for corner in sharp:
                    way = (body.center() - corner) * (1 / 40)
                    into = QPointF(math.copysign(1, way.x()), 0), QPointF(0, math.copysign(1, way.y()))
                    assert all(path.contains(corner + step * px) for step in into for px in range(70))


def test_a_rib_is_a_ridge_of_its_own_and_a_flat_is_none(show: Show) -> None:
    """At the end of the ridge, off the word in its middle."""
    found = []
    for shape in (KeyShape.RIB, KeyShape.FLAT):
        connector = replace(STAGGERED_5, key_shape=shape)
        face = show(connector)
        plan = face_plan(connector)
        one, other = (face.button(n).geometry().center() for n in ("B.3", "B.4"))
        radius = (other.x() - one.x()) / 3.6
        spot = plan.spot("B.3")
        assert spot is not None
        below = round(one.y() + (plan.body.height - spot.y - 0.35) * radius)
        found.append(image(face).pixelColor(one.x() + round(0.4 * radius), below).name())
    assert found == [theme.LIGHT.iron, theme.LIGHT.plastic]


def test_dark_and_large_text(show: Show, qtbot: QtBot) -> None:
    face = show(STAGGERED_5, Mark("B.1", "B.2", "309 out", Tone.OUT))
    light, least = image(face), face.minimumSizeHint()
    face.set_theme(theme.DARK, 2.0)
    assert image(face) != light
    assert face.minimumSizeHint().height() > least.height()
    assert [text for text, _ in face.values] == ["309 out"]

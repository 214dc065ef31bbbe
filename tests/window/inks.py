"""What stands written on a screen, each with its ink and its ground as they are drawn."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import numpy as np
from PySide6.QtCore import QPoint, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontInfo, QFontMetricsF, QImage, QPainter, QPicture
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QComboBox,
    QGraphicsView,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QRadioButton,
    QStyle,
    QStyleOptionButton,
    QTableWidget,
    QWidget,
)

from tests.window.contrast import Bytes, colours, commonest, luminance_of, pixels, ratio, rgb

RATIO = 3  # so that the strokes of small text have pixels of their full ink
LARGE, LARGE_BOLD = 24.0, 18.66  # px: WCAG's 18 and 14 points
SEMI = 600
SEEN = 20  # px of the picture, from which a text is there at all
INSIDE = 6  # px from a thing's left side to where it is filled
EDGE, ARROW = 6, 40  # px of a field or button that its edge takes; of a box that its arrow does


@dataclass(frozen=True)
class Written:
    """A text, where it stands, and the contrast of its ink to its ground."""

    what: str
    contrast: float
    wanted: float


@dataclass
class _Drawn:
    text: str
    box: QRect | None  # px of the picture
    colour: tuple[int, int, int]
    font: QFont


def wanted(font: QFont) -> float:
    """4.5; 3 for large text."""
    info = QFontInfo(font)
    large = info.pixelSize() >= LARGE or (info.pixelSize() >= LARGE_BOLD and font.weight() >= SEMI)
    return 3.0 if large else 4.5


def render(screen: QWidget) -> Bytes:
    """The `whole` picture that the others look at."""
    image = QImage(screen.size() * RATIO, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(RATIO)
    painter = QPainter(image)
    screen.render(painter, QPoint())
    painter.end()
    return pixels(image)


@contextmanager
def spied(drawn: list[_Drawn]) -> Iterator[None]:
    """Notes every text that a painter of ours is told to draw, and leaves it out: what it stands on is seen then."""
    whole = QPainter.drawText

    def note(painter: QPainter, *args: Any) -> Any:
        text = next((a for a in args if isinstance(a, str)), "")
        at, font = args[0], QFont(painter.font())
        m = QFontMetricsF(font)
        if isinstance(at, QPointF | QPoint):
            box = QRectF(QPointF(at).x(), QPointF(at).y() - m.ascent(), m.horizontalAdvance(text), m.height())
        elif isinstance(at, QRectF | QRect):
            flags = next((int(getattr(a, "value", a)) for a in args[1:] if not isinstance(a, str)), 0)
            box = m.boundingRect(QRectF(at), flags, text)
        else:
            return whole(painter, *args)
        picture = isinstance(painter.device(), QPicture)  # an axis of the plot, which is put in its place later
        spot = None if picture else painter.deviceTransform().mapRect(box).toAlignedRect()
        drawn.append(_Drawn(text, spot, rgb(painter.pen().color()), font))
        return None

    QPainter.drawText = note  # type: ignore[method-assign]
    try:
        yield
    finally:
        QPainter.drawText = whole  # type: ignore[method-assign]


def painted(screen: QWidget, whole: Bytes) -> Iterator[Written]:
    """What our own widgets and delegates write: the pen against the worst colour that makes a fifth of what its
    strokes cover.
    """
    drawn: list[_Drawn] = []
    with spied(drawn):
        below = render(screen)
    for d in drawn:
        spot = d.box
        if spot is None:
            (plot,) = (p for p in screen.findChildren(QGraphicsView) if p.isVisible())
            spot = scaled(QRect(plot.mapTo(screen, QPoint(0, 0)), QSize(8, plot.height())))
        part = cut_out(below, spot)
        if d.box is not None:
            part = part[np.any(part != cut_out(whole, spot), axis=-1)]
        if len(part) >= SEEN:  # else it is scrolled out of sight
            ink = luminance_of(d.colour)
            worst = min(float(ratio(ink, luminance_of(c))) for c in colours(part))
            yield Written(f"{d.text!r}, painted", worst, wanted(d.font))


def standard(screen: QWidget, whole: Bytes) -> Iterator[Written]:
    """What Qt's own widgets write: of the colours on their ground, the one that stands out most is the ink's."""
    for w in screen.findChildren(QWidget):
        if not w.isVisible() or not w.isEnabled() or w.window() is not screen.window():
            continue
        for text, box in texts(w):
            seen = box & w.rect() & w.visibleRegion().boundingRect()
            part = cut_out(whole, scaled(QRect(w.mapTo(screen, seen.topLeft()), seen.size())))
            if not text.strip() or seen.width() < 12 or seen.height() < box.height() // 2:
                continue
            ground = luminance_of(commonest(part))
            yield Written(
                f"{text!r}, {type(w).__name__}", float(ratio(ground, luminance_of(part)).max()), wanted(w.font())
            )


def edges(screen: QWidget, whole: Bytes) -> Iterator[Written]:
    """What shows that there is something to type in or to press: its edge, else what fills it, against what is around
    it, at the middle of its left side.
    """
    for w in screen.findChildren(QWidget):
        if not isinstance(w, QLineEdit | QPlainTextEdit | QComboBox | QPushButton | QCheckBox | QRadioButton):
            continue
        inner = w.objectName().startswith("qt_") or isinstance(w.parent(), QComboBox | QAbstractItemView)
        if not w.isVisible() or not w.isEnabled() or w.window() is not screen.window() or inner:
            continue
        left = QPoint(0, w.height() // 2)
        if isinstance(w, QCheckBox | QRadioButton):
            option = QStyleOptionButton()
            option.initFrom(w)
            box = w.style().subElementRect(QStyle.SubElement.SE_CheckBoxIndicator, option, w)
            left = QPoint(box.left(), box.center().y())
        area = w.visibleRegion().boundingRect()
        if not area.contains(left) or not area.contains(left + QPoint(INSIDE, 0)):
            continue
        at = w.mapTo(screen, left) * RATIO
        outside, edge, fill = (luminance_of(whole[at.y(), at.x() + x]) for x in (-2 * RATIO, RATIO, INSIDE * RATIO))
        shown = max(float(ratio(edge, outside)), float(ratio(fill, outside)))
        yield Written(f"edge of {w.accessibleName()!r}, {type(w).__name__}", shown, 3.0)


def texts(w: QWidget) -> Iterator[tuple[str, QRect]]:
    """What a widget writes, and the part of it where nothing else is drawn."""
    inner = w.rect().adjusted(EDGE, EDGE, -EDGE, -EDGE)
    if isinstance(w, QLabel) and type(w).paintEvent is QLabel.paintEvent:
        yield w.text(), w.rect()
    elif isinstance(w, QPushButton):
        yield w.text(), inner
    elif isinstance(w, QCheckBox | QRadioButton):
        yield w.text(), inner.adjusted(w.iconSize().width() + 14, 0, 0, 0)
    elif isinstance(w, QComboBox):
        yield w.currentText() or w.placeholderText(), inner.adjusted(0, 0, -ARROW, 0)
    elif isinstance(w, QLineEdit) and not w.hasSelectedText():
        yield w.text() or w.placeholderText(), inner
    elif isinstance(w, QPlainTextEdit):
        yield w.toPlainText() or w.placeholderText(), inner
    elif isinstance(w, QTableWidget):
        for row in range(w.rowCount()):
            for column in range(w.columnCount()):
                item = w.item(row, column)
                if item is not None and not item.isSelected():
                    yield item.text(), w.visualItemRect(item).translated(w.viewport().pos()).adjusted(3, 3, -3, -3)
    elif isinstance(w, QHeaderView):
        across = w.orientation() is Qt.Orientation.Horizontal
        for i in range(w.count()):
            at, long = w.sectionViewportPosition(i), w.sectionSize(i)
            box = QRect(at, 0, long, w.height()) if across else QRect(0, at, w.width(), long)
            yield str(w.model().headerData(i, w.orientation()) or ""), box


def scaled(box: QRect) -> QRect:
    return QRect(box.topLeft() * RATIO, box.size() * RATIO)


def cut_out(picture: Bytes, box: QRect) -> Bytes:
    return picture[max(box.top(), 0) : box.bottom() + 1, max(box.left(), 0) : box.right() + 1]

"""The first rows of a face: the plug's name, how the plugs are held, and what the page puts in the corner."""

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QFont, QFontMetrics
from PySide6.QtWidgets import QLabel, QWidget

from workbench.sitting.faceplan import FacePlan, words_of_all
from workbench.window.fonts import font
from workbench.window.theme import Sizes, Theme

GAP, BELOW, LEAST_WORDS = 14, 8, 150


class Header:
    """Lays `title` and `words`, and the `corner` if there is one, along the top of their face."""

    def __init__(self, face: QWidget) -> None:
        self._face = face
        self.title, self.words = QLabel(face), QLabel(face)
        self.words.setWordWrap(True)
        self.corner: QWidget | None = None

    def dress(self, t: Theme, s: Sizes) -> None:
        self.title.setFont(font(s.title, QFont.Weight.DemiBold))
        self.words.setFont(font(s.quiet))
        self.title.setStyleSheet(f"color: {t.ink}; font-size: {s.title}px; font-weight: 600;")
        self.words.setStyleSheet(f"color: {t.quiet}; font-size: {s.quiet}px;")

    def say(self, plans: tuple[FacePlan, ...]) -> None:
        """Several plugs have their names over them, and here what is true of all."""
        self.title.setText(self._name(plans))
        self.title.setVisible(len(plans) == 1)
        self.words.setText(words_of_all(plans)[0])

    def height(self, plans: tuple[FacePlan, ...], width: int) -> int:
        """What these plugs need in a face so wide, in px."""
        rects = self._rects(plans, width)
        return max(r.bottom() + 1 for r in rects) + BELOW

    def lay_out(self, plans: tuple[FacePlan, ...], left: int, top: int, width: int) -> int:
        title, words, corner = self._rects(plans, width)
        self.title.setGeometry(title.translated(left, top))
        self.words.setGeometry(words.translated(left, top))
        if self.corner is not None:
            self.corner.setGeometry(corner.translated(left, top))
        return self.height(plans, width)

    @staticmethod
    def _name(plans: tuple[FacePlan, ...]) -> str:
        return f"Plug {plans[0].connector.name}" if len(plans) == 1 else ""

    def _rects(self, plans: tuple[FacePlan, ...], width: int) -> tuple[QRect, QRect, QRect]:
        """Title, words and corner; the words in a row of their own where too little is left beside the corner."""
        big, quiet = QFontMetrics(self.title.font()), QFontMetrics(self.words.font())
        name = self._name(plans)
        corner = self.corner.sizeHint() if self.corner is not None else QRect().size()
        right = max(0, width - corner.width())
        row = max(big.height(), corner.height())
        title = QRect(0, (row - big.height()) // 2, min(right, big.horizontalAdvance(name) + 4) if name else 0, row)
        title.setHeight(big.height())
        start = title.width() + GAP if name else 0
        beside = right - start - (GAP if self.corner is not None else 0)
        text = words_of_all(plans)[0]
        below = beside < LEAST_WORDS and self.corner is not None
        wide = width if below else max(80, beside)
        high = quiet.boundingRect(0, 0, wide, 10000, int(Qt.TextFlag.TextWordWrap), text).height() if text else 0
        words = QRect(0, row + 2, wide, high) if below else QRect(start, max(0, (row - high) // 2), wide, high)
        return title, words, QRect(right, 0, corner.width(), corner.height())

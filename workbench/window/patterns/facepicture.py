"""A face as it looks, for where nothing of it is to be pressed."""

from PySide6.QtCore import QPoint, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPixmap, QRegion, QResizeEvent
from PySide6.QtWidgets import QWidget

from workbench.window.faces.faceview import FaceView


class FacePicture(QWidget):
    """Of a face that is never shown itself, so that neither Tab nor a reader finds what can't be pressed."""

    def __init__(self, face: FaceView) -> None:
        super().__init__()
        self._face, self._taken = face, QPixmap()
        face.setParent(self)
        face.hide()

    def take(self) -> None:
        """Once the face has been told something else."""
        self.setAccessibleName(self._face.accessibleName())
        self.setAccessibleDescription(self._face.accessibleDescription())
        self.updateGeometry()
        self._take()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._take()

    def paintEvent(self, event: QPaintEvent) -> None:
        QPainter(self).drawPixmap(0, 0, self._taken)

    def minimumSizeHint(self) -> QSize:
        return self._face.minimumSizeHint()

    def sizeHint(self) -> QSize:
        return self._face.sizeHint()

    def _take(self) -> None:
        """Not while painting: a widget can't be rendered into another's paint."""
        self._face.resize(self.size())
        ratio = self.devicePixelRatioF()
        taken = QPixmap(self.size() * ratio)
        taken.setDevicePixelRatio(ratio)
        taken.fill(Qt.GlobalColor.transparent)
        if self._face.state is not None and not self.size().isEmpty():
            self._face.render(taken, QPoint(), QRegion(), QWidget.RenderFlag.DrawChildren)
        self._taken = taken
        self.update()

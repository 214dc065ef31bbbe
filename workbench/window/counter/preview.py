"""The faces of the chosen pattern's plugs, to be held beside the part."""

from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from workbench.records import PatternRevision
from workbench.window.look import Look
from workbench.window.parts import label


class PatternPreview(QWidget):
    """Side by side, each looking into its mating side; last of the form, so that nothing moves when they come."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self.shown: PatternRevision | None = None
        self.faces: tuple[QWidget, ...] = ()
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)

    def show_pattern(self, revision: PatternRevision | None) -> None:
        """None: no faces. They are imported when the first is needed: the counter opens without them."""
        if revision == self.shown:
            return
        self.shown = revision
        self.setMinimumHeight(self._look.sizes.px(110) if revision is not None else 0)
        for old in self.faces:
            self._row.removeWidget(old)
            old.hide()
            old.deleteLater()
        self.faces = ()
        if revision is None:
            return
        from workbench.window.patterns.canvas import PlugCanvas

        made = []
        for plug in revision.pattern.connectors:
            face = PlugCanvas(self._look, takes=False)
            face.setMinimumSize(self._look.sizes.px(60), self._look.sizes.px(80))
            face.setAccessibleName(f"Plug {plug.name}, looking into its mating side")
            face.show_plug(plug, "", wire_side=False)
            whole = QWidget()
            beside = QHBoxLayout(whole)
            beside.setContentsMargins(0, 0, 0, 0)
            beside.addWidget(label(f"Plug {plug.name}", "quiet"))
            beside.addWidget(face, 1)
            self._row.addWidget(whole, 1)
            made.append(whole)
        self.faces = tuple(made)

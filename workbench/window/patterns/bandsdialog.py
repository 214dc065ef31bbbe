"""The bands of a pattern beside those that the shop's own units would earn it; the owner takes one or leaves it."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QComboBox, QDialog, QDialogButtonBox, QFormLayout, QVBoxLayout, QWidget

from workbench.drafting.earned import Method
from workbench.records import GoodSheet
from workbench.sitting.earnedbands import EarnedView, earned_views
from workbench.stator.pattern import Pattern
from workbench.window.bench.rows import Row, RowList
from workbench.window.look import Look
from workbench.window.parts import allow, button, fit_window, form_row, label, row_of

METHODS = ((Method.NORMAL, "mean and spread of the units"), (Method.ORDER, "from the least unit to the greatest"))
LEAD = (
    "Made from units that ran well, or that passed by a band from elsewhere. Taking one makes a further revision of "
    "the pattern; sheets judged before keep theirs."
)


class BandsDialog(QDialog):
    """`take(view)` is called for a band that the owner takes; the dialog stays, so that more can be taken."""

    def __init__(
        self, parent: QWidget, look: Look, pattern: Pattern, good: Sequence[GoodSheet],
        take: Callable[[EarnedView], None],
    ) -> None:  # fmt: skip
        super().__init__(parent)
        self.setWindowTitle(f"Bands of {pattern.name}")
        self._pattern, self._good, self._take = pattern, good, take
        self._views: tuple[EarnedView, ...] = ()
        self.method = QComboBox()
        self.method.addItems([words for _, words in METHODS])
        self.rows = RowList(look, "Windings")
        self.rows.selectionModel().selectionChanged.connect(lambda *_: self._chosen())
        self.state = label("", wrap=True)
        self.use = button("Take this band", self.take, key="Ctrl+Return", strong=True, tip="As a further revision")
        close = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        close.button(QDialogButtonBox.StandardButton.Close).setAccessibleName("Close")
        close.rejected.connect(self.reject)
        form = QFormLayout()
        form_row(form, "&Made by", self.method)
        column = QVBoxLayout(self)
        column.addWidget(label(f"Bands of {pattern.name}", "title", wrap=True))
        column.addWidget(label(LEAD, "quiet", wrap=True))
        column.addLayout(form)
        column.addWidget(self.rows, 1)
        column.addWidget(self.state)
        column.addLayout(row_of(self.use))
        column.addWidget(close)
        self.method.currentIndexChanged.connect(lambda _: self._show())
        self._show()
        least = QSize(look.sizes.px(620), look.sizes.px(460))
        self.setMinimumSize(least.boundedTo(parent.window().size() - QSize(16, 16)))
        fit_window(self, parent)

    def show_pattern(self, pattern: Pattern) -> None:
        """As it stands after a band was taken."""
        self._pattern = pattern
        self._show()

    @property
    def chosen(self) -> EarnedView | None:
        return next((v for v in self._views if v.winding == self.rows.key()), None)

    def take(self) -> None:
        view = self.chosen
        if view is not None and view.low is not None:
            self._take(view)

    def _show(self) -> None:
        kept = self.rows.key()
        method, _ = METHODS[self.method.currentIndex()]
        self._views = earned_views(self._pattern, self._good, method)
        self.rows.rows.show_rows(
            [Row(v.winding, v.winding, f"now {v.stands}", v.earned or "—", "", v.spoken) for v in self._views]
        )
        self.rows.select_key(kept if kept is not None else self._views[0].winding if self._views else None)
        self._chosen()

    def _chosen(self) -> None:
        view = self.chosen
        self.state.setText(view.state if view is not None else "This pattern has no winding that ohms can judge.")
        allow(self.use, view is not None and view.low is not None, "No band of the shop's own is earned here yet")

"""A PDF's pages as images, for the screen and for a printer."""

from dataclasses import dataclass

from PySide6.QtGui import QImage

from workbench.records import CardSize
from workbench.window.card.kind import Kind


@dataclass(frozen=True, slots=True)
class Drawn:
    """What was made, with its pages at the screen's own dots; `asserts` is empty for what is no card."""

    kind: Kind
    size: CardSize
    pdf: bytes
    images: tuple[QImage, ...]
    asserts: str = ""


def page_images(pdf: bytes, dots_per_inch: float) -> list[QImage]:
    """One image a page. pypdfium2 is loaded only here, when a card is looked at."""
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    try:
        out = []
        for page in document:
            bitmap = page.render(scale=dots_per_inch / 72, rev_byteorder=True, prefer_bgrx=True)
            image = QImage(bitmap.buffer, bitmap.width, bitmap.height, bitmap.stride, QImage.Format.Format_RGBX8888)
            out.append(image.copy())  # the buffer goes with the bitmap
            page.close()
        return out
    finally:
        document.close()

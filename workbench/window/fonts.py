"""The program's own font, so that a page looks the same on every bench and every character has a glyph."""

from importlib.resources import files

from PySide6.QtCore import QByteArray
from PySide6.QtGui import QFont, QFontDatabase

FAMILY = "Fira Sans Condensed"
FILES = ("FiraSansCondensed-Regular.ttf", "FiraSansCondensed-Medium.ttf", "FiraSansCondensed-SemiBold.ttf")


def font_bytes(name: str) -> bytes:
    """One of FILES as it ships."""
    return files("resources").joinpath("fonts", name).read_bytes()


def load_fonts() -> None:
    """Makes FAMILY known to Qt; harmless when done before. Needs a QGuiApplication.

    Raises RuntimeError where a font that ships with the program can't be read.
    """
    if FAMILY in QFontDatabase.families():
        return
    for name in FILES:
        if QFontDatabase.addApplicationFontFromData(QByteArray(font_bytes(name))) < 0:
            raise RuntimeError(f"the font {name} that ships with Plugface can't be read")


def font(pixels: int, weight: QFont.Weight = QFont.Weight.Normal) -> QFont:
    """FAMILY at so many px, its figures all equally wide so that columns of readings line up."""
    made = QFont(FAMILY)
    made.setPixelSize(pixels)
    made.setWeight(weight)
    made.setFeature(QFont.Tag("tnum"), 1)
    return made

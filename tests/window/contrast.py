"""Contrast as WCAG 2.2 defines it ("relative luminance", "contrast ratio"), for colours and for whole pictures."""

import numpy as np
import numpy.typing as npt
from PySide6.QtGui import QColor, QImage

Floats = npt.NDArray[np.float64]
Bytes = npt.NDArray[np.uint8]
WEIGHTS = np.array([0.2126, 0.7152, 0.0722])


def linear(srgb: npt.ArrayLike) -> Floats:
    """sRGB channels from 0 to 255, as light from 0 to 1."""
    c = np.asarray(srgb, dtype=float) / 255
    return np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4)


def luminance_of(rgb: npt.ArrayLike) -> Floats:
    """Of an array whose last axis is r, g, b from 0 to 255."""
    found: Floats = linear(rgb) @ WEIGHTS
    return found


def ratio(one: npt.ArrayLike, other: npt.ArrayLike) -> Floats:
    """1 to 21, for luminances of any shape."""
    a, b = np.asarray(one), np.asarray(other)
    return (np.maximum(a, b) + 0.05) / (np.minimum(a, b) + 0.05)


def rgb(colour: str | QColor) -> tuple[int, int, int]:
    c = QColor(colour)
    return c.red(), c.green(), c.blue()


def contrast(one: str | QColor, other: str | QColor) -> float:
    return float(ratio(luminance_of(rgb(one)), luminance_of(rgb(other))))


def pixels(image: QImage) -> Bytes:
    """Height x width x 3."""
    image = image.convertToFormat(QImage.Format.Format_RGB888)
    high, wide = image.height(), image.width()
    raw = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(high, image.bytesPerLine())
    return raw[:, : 3 * wide].reshape(high, wide, 3).copy()


def colours(picture: Bytes, share: float = 0.2) -> list[tuple[int, int, int]]:
    """The colours that make at least such a share of a picture, commonest first; one always."""
    codes, counts = np.unique(picture.reshape(-1, 3).astype(np.int64) @ np.array([65536, 256, 1]), return_counts=True)
    order = np.argsort(counts)[::-1]
    found = [int(codes[i]) for i in order if counts[i] >= share * counts.sum()] or [int(codes[order[0]])]
    return [(c >> 16, c >> 8 & 255, c & 255) for c in found]


def commonest(picture: Bytes) -> tuple[int, int, int]:
    return colours(picture)[0]

"""What this bench likes: looks, sound, a pedal. Shop data lives in the store, never here, but for what this bench
calls the shop."""

from dataclasses import dataclass

from PySide6.QtCore import QSettings

from workbench.records import CardSize

THEMES = ("system", "light", "dark")
TEXT_SCALES = (1.0, 1.25, 1.5, 2.0)
LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class Liking:
    theme: str = "system"
    text_scale: float = 1.0
    tones: bool = False
    moves: bool = False  # the offered pair pulses
    pedal: str = ""  # a key, in Qt's portable words; empty: none
    shop: str = ""  # what the shop is called
    learns: bool = True  # the odds before the first reading follow what the shop finds


def _file() -> QSettings:
    return QSettings(QSettings.Format.IniFormat, QSettings.Scope.UserScope, "plugface", "bench")


def load() -> Liking:
    """INI gives back strings, and anyone may have edited them: whatever can't be read is as at first."""
    file, usual = _file(), Liking()
    theme = str(file.value("theme", usual.theme))
    try:
        scale = float(str(file.value("text_scale", usual.text_scale)))
    except ValueError:
        scale = usual.text_scale
    return Liking(
        theme=theme if theme in THEMES else usual.theme,
        text_scale=min(max(scale, TEXT_SCALES[0]), TEXT_SCALES[-1]),
        tones=str(file.value("tones", "true")).lower() != "false",
        moves=str(file.value("moves", "true")).lower() != "false",
        pedal=str(file.value("pedal", usual.pedal)),
        shop=_line(file.value("shop", usual.shop))[:LONGEST_NAME].strip(),
        learns=str(file.value("learns", "true")).lower() != "false",
    )


def _line(value: object) -> str:
    """A line that was written by hand with commas comes as a list."""
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)


def save(liking: Liking) -> None:
    file = _file()
    file.setValue("theme", liking.theme)
    file.setValue("text_scale", str(liking.text_scale))
    file.setValue("tones", "true" if liking.tones else "false")
    file.setValue("moves", "true" if liking.moves else "false")
    file.setValue("pedal", liking.pedal)
    file.setValue("shop", liking.shop)
    file.setValue("learns", "true" if liking.learns else "false")
    file.sync()


def keep_learns(learns: bool) -> None:
    file = _file()
    file.setValue("learns", "true" if learns else "false")
    file.sync()


def card_size() -> CardSize:
    """What cards were last printed on at this bench."""
    try:
        return CardSize(str(_file().value("card_size", CardSize.STAND)))
    except ValueError:
        return CardSize.STAND


def keep_card_size(size: CardSize) -> None:
    file = _file()
    file.setValue("card_size", str(size))
    file.sync()

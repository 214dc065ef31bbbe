"""Reads what ships with the program, from a checkout, a wheel or a zip alike."""

from functools import cache
from importlib.resources import files


def read_bytes(*parts: str) -> bytes:
    """The file at `parts` under resources/, as in `read_bytes("fonts", "OFL.txt")`. Raises FileNotFoundError."""
    return files("resources").joinpath(*parts).read_bytes()


@cache
def read_text(*parts: str) -> str:
    """The same as UTF-8 text."""
    return read_bytes(*parts).decode("utf-8")

"""Whether a window can open here, found out before Qt is asked: Qt aborts the process where it can't."""

import ctypes
import os
import re
import sys
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path

# what Qt's own modules and its xcb plugin link to, by the Debian package that has it
DEBIAN_PACKAGES = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libdbus-1.so.3": "libdbus-1-3",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libX11.so.6": "libx11-6",
    "libX11-xcb.so.1": "libx11-xcb1",
    "libxcb.so.1": "libxcb1",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render.so.0": "libxcb-render0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-shm.so.0": "libxcb-shm0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-util.so.1": "libxcb-util1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
}
MISSING = re.compile(r"(lib[\w.+-]+\.so[\w.]*): cannot open shared object")


@dataclass(frozen=True, slots=True)
class Display:
    """`usable`: a window can be tried. Else `sentence` says why not; `qt` whether Qt itself can draw unseen."""

    usable: bool
    qt: bool
    sentence: str = ""


def probe() -> Display:
    """Looks at the environment and at Qt's libraries; starts nothing."""
    missing = missing_libraries(("QtWidgets", "QtGui", "QtCore"))
    if missing:
        return Display(False, False, _packages_sentence(missing))
    try:
        import PySide6.QtWidgets  # noqa: F401  # the probe itself: an ImportError is the answer
    except ImportError as e:
        found = MISSING.search(str(e))
        return Display(False, False, _packages_sentence([found[1]]) if found else f"Qt can't be loaded here ({e}).")
    if not sys.platform.startswith("linux") or os.environ.get("QT_QPA_PLATFORM"):
        unseen = os.environ.get("QT_QPA_PLATFORM") in ("offscreen", "minimal")
        return Display(not unseen, True, "QT_QPA_PLATFORM tells Qt to draw unseen." if unseen else "")
    if not _named():
        return Display(False, True, "There is no display here (neither DISPLAY nor WAYLAND_DISPLAY is set).")
    return Display(True, True)


def platforms() -> str:
    """What to try, in order: Qt falls back by itself and does not abort while `offscreen` stands last."""
    return "wayland;xcb;offscreen" if os.environ.get("WAYLAND_DISPLAY") else "xcb;offscreen"


def why_unseen() -> str:
    """After Qt fell back to drawing unseen although a display was named: the reason, as a sentence."""
    missing = missing_libraries((), plugin=True)
    if missing:
        return _packages_sentence(missing)
    return f"The display {_named()!r} does not answer."


def _named() -> str:
    return os.environ.get("WAYLAND_DISPLAY") or os.environ.get("DISPLAY") or ""


def _packages_sentence(missing: list[str]) -> str:
    packages = sorted({DEBIAN_PACKAGES.get(name, "the package that has " + name) for name in missing})
    return (
        f"Qt's system libraries are not all here: {', '.join(missing)}. "
        f"On Debian: sudo apt-get install {' '.join(packages)}."
    )


def missing_libraries(modules: tuple[str, ...], *, plugin: bool = False) -> list[str]:
    """Names of shared libraries that Qt's modules, or its X11 plugin, ask for and the system lacks."""
    spec = find_spec("PySide6")
    if spec is None or not spec.submodule_search_locations or not sys.platform.startswith("linux"):
        return []
    root = Path(next(iter(spec.submodule_search_locations)))
    files = [f for m in modules for f in root.glob(f"Qt/lib/lib{m.replace('Qt', 'Qt6')}.so.6")]
    if plugin:
        files += [root / "Qt/plugins/platforms/libqxcb.so"]
    missing: list[str] = []
    for file in files:
        try:
            ctypes.CDLL(str(file))
        except OSError as e:
            found = MISSING.search(str(e))
            if found and found[1] not in missing:
                missing.append(found[1])
    # the loader names one missing library at a time; ask for the rest of the known ones directly
    return missing + [name for name in DEBIAN_PACKAGES if missing and name not in missing and not _loads(name)]


def _loads(name: str) -> bool:
    try:
        ctypes.CDLL(name)
    except OSError:
        return False
    return True

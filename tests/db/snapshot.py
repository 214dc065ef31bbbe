"""A folder as it stands, to be compared with itself later: names, kinds, rights, times and bytes."""

from pathlib import Path
from typing import NamedTuple


class Entry(NamedTuple):
    mode: int
    changed_ns: int
    content: bytes


def snapshot(folder: Path) -> dict[str, Entry]:
    entries = {}
    for path in [folder, *folder.rglob("*")]:
        stat = path.lstat()
        content = path.read_bytes() if path.is_file() else b""
        entries[str(path.relative_to(folder))] = Entry(stat.st_mode, stat.st_mtime_ns, content)
    return entries

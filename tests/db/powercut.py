"""What a power cut leaves of a file: a shim around SQLite's own file system that notes every write and sync.

`recording()` swaps the default VFS's xOpen, and through it the methods of every file that is opened, for ones
that note what they do and then do it (sqlite3_vfs, sqlite3_io_methods: SQLite's documented interface). From the
notes, `Disk` rebuilds the files as a disk would hold them that kept nothing but what was synced before the cut.
"""

import _sqlite3
import ctypes
import random
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

_SECTOR = 512
# the name as an address: SQLite keeps the pointer it was opened with
_OPEN = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_void_p, ctypes.c_void_p, ctypes.c_void_p, ctypes.c_int, ctypes.c_void_p)
_DELETE = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_void_p, ctypes.c_char_p, ctypes.c_int)
_WRITE = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_void_p, ctypes.c_void_p, ctypes.c_int, ctypes.c_int64)
_TRUNCATE = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_void_p, ctypes.c_int64)
_SYNC = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_void_p, ctypes.c_int)


class _Vfs(ctypes.Structure):
    _fields_ = (
        ("version", ctypes.c_int),
        ("file_size", ctypes.c_int),
        ("longest_path", ctypes.c_int),
        ("next", ctypes.c_void_p),
        ("name", ctypes.c_char_p),
        ("data", ctypes.c_void_p),
        ("open", ctypes.c_void_p),
        ("delete", ctypes.c_void_p),
    )


class _Methods(ctypes.Structure):
    _fields_ = (
        ("version", ctypes.c_int),
        *((name, ctypes.c_void_p) for name in ("close", "read", "write", "truncate", "sync")),
        ("rest", ctypes.c_void_p * 13),
    )


class Op(NamedTuple):
    """`kind`: write, truncate, sync, delete, or ack (then `file` is what was acknowledged)."""

    kind: str
    file: str
    at: int = 0
    data: bytes = b""


def why_not() -> str | None:
    """Why no file can be watched here; None where it can."""
    try:
        find = ctypes.CDLL(_sqlite3.__file__).sqlite3_vfs_find
    except (AttributeError, OSError) as e:
        return f"this Python hides SQLite's VFS ({e})"
    find.restype = ctypes.c_void_p
    return None if find(None) else "SQLite has no default VFS here"


def record() -> list[Op]:
    """From now on until the process ends, whatever SQLite does to its files is appended to this list."""
    find = ctypes.CDLL(_sqlite3.__file__).sqlite3_vfs_find
    find.restype = ctypes.POINTER(_Vfs)
    vfs = find(None).contents
    ops: list[Op] = []
    opened: dict[int, str] = {}
    originals: dict[int, _Methods] = {}
    shims: dict[int, _Methods] = {}
    really_open, really_delete = _OPEN(vfs.open), _DELETE(vfs.delete)

    def method(file: int, name: str, kind: Any) -> Any:
        return kind(getattr(originals[file], name))

    @_WRITE  # type: ignore[untyped-decorator]
    def write(file: int, data: int, size: int, offset: int) -> int:
        ops.append(Op("write", opened[file], offset, ctypes.string_at(data, size)))
        return int(method(file, "write", _WRITE)(file, data, size, offset))

    @_TRUNCATE  # type: ignore[untyped-decorator]
    def truncate(file: int, size: int) -> int:
        ops.append(Op("truncate", opened[file], size))
        return int(method(file, "truncate", _TRUNCATE)(file, size))

    @_SYNC  # type: ignore[untyped-decorator]
    def sync(file: int, flags: int) -> int:
        code = int(method(file, "sync", _SYNC)(file, flags))
        if code == 0:
            ops.append(Op("sync", opened[file]))
        return code

    @_OPEN  # type: ignore[untyped-decorator]
    def open_(vfs_: int, name: int | None, file: int, flags: int, out: int) -> int:
        code = int(really_open(vfs_, name, file, flags, out))
        pointer = ctypes.cast(file, ctypes.POINTER(ctypes.c_void_p))
        if code == 0 and name and pointer[0]:
            original = _Methods.from_address(pointer[0])
            shim = _Methods.from_buffer_copy(original)
            for field_, ours in (("write", write), ("truncate", truncate), ("sync", sync)):
                setattr(shim, field_, ctypes.cast(ours, ctypes.c_void_p).value)
            opened[file], originals[file], shims[file] = _name(name), original, shim
            pointer[0] = ctypes.addressof(shim)
        return code

    @_DELETE  # type: ignore[untyped-decorator]
    def delete(vfs_: int, name: bytes, sync_folder: int) -> int:
        ops.append(Op("delete", Path(name.decode()).name))
        return int(really_delete(vfs_, name, sync_folder))

    _kept_alive.extend((write, truncate, sync, open_, delete, shims, originals))
    vfs.open = ctypes.cast(open_, ctypes.c_void_p).value
    vfs.delete = ctypes.cast(delete, ctypes.c_void_p).value
    return ops


def _name(address: int) -> str:
    return Path(ctypes.string_at(address).decode()).name


_kept_alive: list[object] = []


@dataclass
class Disk:
    """The files of a folder as the disk holds them (`safe`), and what has not been synced yet (`loose`)."""

    safe: dict[str, bytes]
    loose: dict[str, list[Op]] = field(default_factory=dict)

    def take(self, op: Op) -> None:
        if op.kind == "sync":
            self.safe[op.file] = _after(self.safe.get(op.file, b""), self.loose.pop(op.file, []))
        elif op.kind == "delete":  # a delete may reach the disk or not; here it does
            self.safe.pop(op.file, None)
            self.loose.pop(op.file, None)
        elif op.kind != "ack":
            self.loose.setdefault(op.file, []).append(op)

    def after_cut(self, dice: random.Random | None = None) -> dict[str, bytes]:
        """What is left: nothing that wasn't synced, or (with `dice`) any sectors of it."""
        if dice is None:
            return dict(self.safe)
        names = {*self.safe, *self.loose}
        return {n: _after(self.safe.get(n, b""), _some(self.loose.get(n, []), dice)) for n in names}


def _after(content: bytes, ops: Iterable[Op]) -> bytes:
    data = bytearray(content)
    for op in ops:
        if op.kind == "truncate":
            del data[op.at :]
            data.extend(bytes(op.at - len(data)))
        else:
            data.extend(bytes(max(0, op.at + len(op.data) - len(data))))
            data[op.at : op.at + len(op.data)] = op.data
    return bytes(data)


def _some(ops: list[Op], dice: random.Random) -> list[Op]:
    kept: list[Op] = []
    for op in ops:
        if op.kind == "truncate":
            kept += [op] * dice.randint(0, 1)
            continue
        start = 0
        while start < len(op.data):  # a disk writes whole sectors, in any order
            end = min(len(op.data), (op.at + start) // _SECTOR * _SECTOR + _SECTOR - op.at)
            if dice.randint(0, 1):
                kept.append(Op("write", op.file, op.at + start, op.data[start:end]))
            start = end
    return kept


def lost_after_cuts(
    base: dict[str, bytes],
    ops: list[Op],
    cuts: Iterable[int],
    dice: random.Random | None,
    survivors: Callable[[dict[str, bytes]], set[str]],
) -> list[tuple[int, set[str]]]:
    """For each cut (a count of operations done before it) that loses something: what was acknowledged and is gone."""
    disk, done, acknowledged, lost = Disk(dict(base)), 0, set[str](), []
    for cut in sorted(cuts):
        for op in ops[done:cut]:
            disk.take(op)
            if op.kind == "ack":
                acknowledged.add(op.file)
        done = cut
        missing = acknowledged - survivors(disk.after_cut(dice))
        if missing:
            lost.append((cut, missing))
    return lost

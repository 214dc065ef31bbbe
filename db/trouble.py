"""What can go wrong between the program and the place its records lie in, told as calm sentences."""

import shutil
import sqlite3
from enum import Enum
from pathlib import Path

_ROOM_BYTES = 64 * 1024  # for the log's index and its first pages


class StoreTrouble(Exception):  # noqa: N818 - the world's, not an error of ours
    """The world's failure, not the program's. `sentence` says what happened, what is safe, what to do next."""

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence)
        self.sentence = sentence


class ChangedElsewhere(StoreTrouble):
    """An edit that started from a version which is no longer the one kept."""

    def __init__(self, what: str) -> None:
        super().__init__(
            f"The {what} was changed elsewhere meanwhile. What is kept there stands and nothing was overwritten. "
            "Open it again, look at the change, and enter yours anew."
        )


class Refused(StoreTrouble):
    """What was asked for contradicts what is kept already: a tag that is taken, a reading struck before."""


class PatternsThere(Refused):
    """Patterns that were to be brought in, where the shop has others under those `names`."""

    def __init__(self, names: tuple[str, ...]) -> None:
        said = ", ".join(f"“{n}”" for n in names)
        others = f"another pattern named {said}" if len(names) == 1 else f"other patterns named {said}"
        super().__init__(
            f"The shop has {others} already. What it has stands and nothing was brought in. "
            "Bring them in as further revisions of those, or under other names."
        )
        self.names = names


class Moment(Enum):
    """What was being done, as a sentence that says what is safe now."""

    ASKING = "Nothing was changed."  # opening counts as asking: it touches nothing when it fails
    WRITING = "This entry is not on disk: it stays on the screen and can be tried again."


def trouble_from(error: sqlite3.Error, path: Path, moment: Moment) -> StoreTrouble | None:
    """The sentence for an error of the world; None for one that is the program's own."""
    code = getattr(error, "sqlite_errorcode", None)
    primary = None if code is None else code & 0xFF
    if primary in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        happened = f"The store {path} is locked by another program."
        then = "Close the other program (a second Plugface, a backup, a sync tool), or wait a moment, and try again."
    elif primary == sqlite3.SQLITE_FULL or (primary == sqlite3.SQLITE_IOERR and has_no_room(path.parent)):
        return full(path, moment)
    elif primary in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM):
        happened = f"The store {path} can't be written to: the place or the file is read-only."
        then = "Give this user the right to write there, or choose another place for the store."
    elif primary == sqlite3.SQLITE_CANTOPEN:
        happened = f"The store {path} can't be opened."
        then = "Check that its disk is connected and that this user may read and write there, then try again."
    elif primary in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
        return damaged(path, moment)
    elif primary == sqlite3.SQLITE_IOERR:
        happened = f"The disk that holds {path} reported an error."
        then = "Check the disk and its connection, copy the store to another disk, then try again."
    else:
        return None
    return StoreTrouble(f"{happened} {moment.value} {then}")


def damaged(path: Path, moment: Moment = Moment.ASKING) -> StoreTrouble:
    return StoreTrouble(
        f"The store {path} is damaged. {moment.value} Copy the file and everything beside it to another disk as it is, "
        "then put back the latest good copy."
    )


def full(path: Path, moment: Moment = Moment.ASKING) -> StoreTrouble:
    return StoreTrouble(f"The disk that holds {path} is full. {moment.value} Make some room on it and try again.")


def has_no_room(folder: Path) -> bool:
    try:
        return shutil.disk_usage(folder).free < _ROOM_BYTES
    except OSError:
        return False

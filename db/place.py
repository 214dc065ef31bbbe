"""Where the store lies, whose bench this is, and files that only their owner may read."""

import os
from contextlib import suppress
from pathlib import Path
from uuid import UUID, uuid4

import platformdirs

from db.trouble import StoreTrouble

STORE_NAME = "plugface.sqlite"
BENCH_NAME = "bench-id"


def default_folder() -> Path:
    return platformdirs.user_data_path("plugface", appauthor=False)


def default_url() -> str:
    """The store of this user on this machine."""
    return f"sqlite:///{default_folder() / STORE_NAME}"


def path_of(place: str | os.PathLike[str]) -> Path:
    """The file that a plain path or a `sqlite:///` URL names, absolute. Raises StoreTrouble for anything else."""
    text = os.fspath(place)
    if "://" not in text:
        named = text
    elif text.startswith("sqlite:///") and "?" not in text:
        named = text.removeprefix("sqlite:///")
    else:
        named = ""
    if not named or named == ":memory:":
        raise StoreTrouble(
            f"{text!r} is not a place this program can keep records in. Nothing was changed. "
            "Give the path of a file, or sqlite:/// followed by one."
        )
    return Path(named).expanduser().absolute()


def make_folder(folder: Path) -> list[Path]:
    """The folders that had to be made, outermost first, readable by their owner alone. Raises StoreTrouble."""
    missing = [f for f in (folder, *folder.parents) if not f.exists()][::-1]
    made: list[Path] = []
    try:
        for one in missing:
            one.mkdir(mode=0o700)
            made.append(one)
    except OSError as e:
        remove_folders(made)
        raise StoreTrouble(
            f"The folder {folder} is missing and can't be made ({_why(e)}). Nothing was changed. "
            "Make it by hand, connect its disk, or choose another place for the store."
        ) from e
    return made


def remove_folders(made: list[Path]) -> None:
    for one in reversed(made):
        with suppress(OSError):
            one.rmdir()


def make_private_file(path: Path) -> None:
    """An empty file that only its owner may read. Raises OSError where there is one already."""
    os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))


def sync_folder(folder: Path) -> None:
    """Waits until the folder's list of names is on disk, where the system can do that."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def bench_id(folder: Path | None = None) -> UUID:
    """This bench's id, made once and kept in `folder` (the default store's). Raises StoreTrouble."""
    folder = default_folder() if folder is None else folder
    path = folder / BENCH_NAME
    try:
        return UUID(path.read_text(encoding="ascii").strip())
    except FileNotFoundError:
        pass
    except (OSError, ValueError) as e:
        raise StoreTrouble(
            f"The bench's own file {path} can't be read. Nothing was changed. "
            "Make it readable, or move it away: a new one is made at the next start."
        ) from e
    make_folder(folder)
    return _make_bench(path)


def _make_bench(path: Path) -> UUID:
    fresh = uuid4()
    draft = path.with_name(f"{path.name}.{fresh.hex}")
    try:
        make_private_file(draft)
        with draft.open("r+", encoding="ascii") as f:
            f.write(f"{fresh}\n")
            f.flush()
            os.fsync(f.fileno())
        place_new(draft, path)
    except FileExistsError:  # another start of the program was quicker
        return bench_id(path.parent)
    except OSError as e:
        raise StoreTrouble(
            f"The bench's own file {path} can't be made ({_why(e)}). Nothing was changed. "
            "Make room there, or give this user the right to write there, and try again."
        ) from e
    finally:
        draft.unlink(missing_ok=True)
    return fresh


def place_new(draft: Path, path: Path) -> None:
    """Gives a finished draft its name at one stroke. Raises FileExistsError rather than replace anything."""
    try:
        os.link(draft, path)
    except FileExistsError:
        raise
    except OSError:  # a disk without hard links
        if path.exists():
            raise FileExistsError(path) from None
        draft.rename(path)
    sync_folder(path.parent)


def _why(e: OSError) -> str:
    return (e.strerror or type(e).__name__).lower()

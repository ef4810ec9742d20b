"""Writing a file so that whoever looks finds the old one or the new one, never a part.

The bytes go into a file beside the place, are on the disk before it takes the place, and only then take it.
"""

import contextlib
import os
import tempfile
import time
from pathlib import Path

PREFIX, SUFFIX = ".writing-", ".part"
STALE_S = 3600.0  # an unfinished file as old as that belongs to nobody who still writes


def put(place: Path, data: bytes, *, replace: bool = True) -> None:
    """Write a file, all of it or nothing.

    Parameters
    ----------
    replace : bool
        Whether it may take the place of a file that is there.

    Raises
    ------
    FileExistsError
        Where one is there and must stay.
    OSError
        Where it cannot be written; what was there stays.
    """
    handle, beside = tempfile.mkstemp(prefix=PREFIX, suffix=SUFFIX, dir=place.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            os.chmod(beside, _usual_mode(place))
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if replace:
            os.replace(beside, place)
        else:
            _take_free(beside, place)
        _keep_name(place.parent)
    finally:
        with contextlib.suppress(OSError):
            os.unlink(beside)
    _sweep(place.parent)


def _take_free(beside: str, place: Path) -> None:
    """Give a file its name unless that is taken, in one step where the disk can."""
    try:
        os.link(beside, place)
    except FileExistsError:
        raise
    except OSError:  # no second names on this disk
        if place.exists():
            raise FileExistsError(f"{place.name} is there") from None
        os.replace(beside, place)


def _usual_mode(place: Path) -> int:
    """Return who may read the file: as before, else as any new file of this person."""
    with contextlib.suppress(OSError):
        return place.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _keep_name(folder: Path) -> None:
    """Have the new name itself on the disk, where a folder can be told to."""
    with contextlib.suppress(OSError, AttributeError):
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _sweep(folder: Path) -> None:
    """Take away what writers left who died long ago."""
    for path in folder.glob(f"{PREFIX}*{SUFFIX}"):
        with contextlib.suppress(OSError):
            if time.time() - path.stat().st_mtime > STALE_S:
                path.unlink()

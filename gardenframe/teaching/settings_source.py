"""Where a panel has its settings from, looked at again at every move: a file that was mended counts at once."""

from functools import cache
from pathlib import Path
from typing import Any

from gardenframe.errors import GardenframeError
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.teaching.settings import FILE, Settings, load_settings


class Source:
    """Where a panel has its settings from: what it was given, else the working folder's file, read again if changed.

    `system` is that of the file as it is found, metric where there is none or it cannot be read.
    """

    def __init__(self, site: Site | None = None, shop: Shop | None = None, folder: Path | None = None) -> None:
        self.site, self.shop, self.folder = site, shop, folder or Path.cwd()
        self._seen: tuple[Any, ...] = ()
        self._kept: Settings | GardenframeError = Settings()
        try:
            self.system = self.now().system
        except GardenframeError:
            self.system = "metric"

    def now(self) -> Settings:
        """Return the settings as they are now; the error of the file while it cannot be used."""
        if self.site is not None or self.shop is not None:
            return Settings(site=self.site or Site(), shop=self.shop or _as_shipped())
        seen = tuple(_stamp(path) for path in (self.folder / FILE, *self._tables()))
        if seen != self._seen:
            try:
                self._kept = load_settings(self.folder)
            except GardenframeError as error:
                self._kept = error
            self._seen = tuple(_stamp(path) for path in (self.folder / FILE, *self._tables()))
        if isinstance(self._kept, GardenframeError):
            raise self._kept.with_traceback(None)
        return self._kept

    def _tables(self) -> list[Path]:
        """Return the reader's own tables, every table of the folder while one of them cannot be used."""
        if isinstance(self._kept, GardenframeError):
            return sorted(self.folder.glob("*.csv"))
        named = (self._kept.values[key] for key in ("prices", "fittings"))
        return [self.folder / Path(name).expanduser() for name in named if name]


@cache
def _as_shipped() -> Shop:
    return Shop()


def _stamp(path: Path) -> tuple[int, int] | None:
    """Return what changes when a file is written, None where there is none."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size

"""The site beside a panel: wind, snow and soil to move, starting from the settings of the folder."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from gardenframe.errors import GardenframeError
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.teaching import settings_fields as known
from gardenframe.teaching.controls.panel import Extra
from gardenframe.teaching.settings import load_settings

WIND_AND_SNOW = ("wind", "wind_kind", "exposure", "shelter", "ground_snow", "soil")


def site_controls(folder: Path | None = None, *, keys: tuple[str, ...] = WIND_AND_SNOW) -> Extra:
    """Return controls of the site for a panel, open, starting from the settings of a folder (the working one)."""
    try:
        values = load_settings(folder).values
    except GardenframeError:  # the panel itself says what is wrong with the file
        values = {}
    all_fields = tuple(known.site_fields())
    fields = tuple(field for field in all_fields if field.key in keys)
    kept = {field.key: values.get(field.key, field.default) for field in all_fields}

    def apply(chosen: Mapping[str, Any], site: Site, shop: Shop) -> tuple[Site, Shop]:
        return known.site_of(kept | dict(chosen)), shop

    start = {field.key: kept[field.key] for field in fields}
    return Extra(heading=known.PLACE, fields=fields, apply=apply, values=start, opened=True, read=known.values_of_site)

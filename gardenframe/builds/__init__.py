"""The build types: one file each. `ALL` maps the key of each to its class."""

from gardenframe.builds.build import Build
from gardenframe.builds.cold_frame import ColdFrame
from gardenframe.builds.trellis import Trellis

ALL: dict[str, type[Build]] = {build.key: build for build in (Trellis, ColdFrame)}

"""The build types: one file each. `ALL` maps the key of each to its class; `KINDS` has the reader's own frame too."""

from gardenframe.builds.build import Build
from gardenframe.builds.cold_frame import ColdFrame
from gardenframe.builds.enclosure import Enclosure
from gardenframe.builds.grow_stand import GrowStand
from gardenframe.builds.hoop_house import HoopHouse
from gardenframe.builds.own_frame import OwnFrame
from gardenframe.builds.raised_bed import RaisedBed
from gardenframe.builds.shade_frame import ShadeFrame
from gardenframe.builds.trellis import Trellis
from gardenframe.builds.walkway_arch import WalkwayArch

ALL: dict[str, type[Build]] = {
    build.key: build
    for build in (Trellis, WalkwayArch, ColdFrame, HoopHouse, RaisedBed, Enclosure, ShadeFrame, GrowStand)
}
KINDS: dict[str, type[Build]] = {**ALL, OwnFrame.key: OwnFrame}  # what can be saved and read again

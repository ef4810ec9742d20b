"""Garden structures from thin-wall steel tubing: from a first guess to what is cut, bought, built and looked after.

Read in this order: `builds` (what a reader chooses), `road` (how a plan follows), then the floors it walks over:
`geometry`, `strength`, `costs`, and under them `materials`, `working`, `units`, `tables`, `errors`.
"""

import os

# Frames give small matrices: several threads for each cost more than they bring, ten times as much on a busy machine.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from gardenframe import builds
from gardenframe.geometry.frame import Frame
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.road import Plan, plan

__all__ = ["Frame", "Plan", "Shop", "Site", "builds", "plan"]

"""Whether a frame stands on a site: its loads, what it does under them, and every check of it.

Frame, fittings, coverings and site come in; loads, response and checks go out, each worked out when first asked for.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Self

from gardenframe.geometry.coverings import Covered
from gardenframe.geometry.fittings import Fitted
from gardenframe.geometry.frame import Frame
from gardenframe.kept import cached_property
from gardenframe.materials.coverings import load_coverings
from gardenframe.materials.fixings import load_fixings
from gardenframe.materials.members import Member
from gardenframe.materials.plants import load_plants
from gardenframe.materials.site import Site
from gardenframe.strength.anchors import Anchors, anchors
from gardenframe.strength.cases import Case, Combination
from gardenframe.strength.checks import Checks, check
from gardenframe.strength.joints import joint_springs
from gardenframe.strength.loads import Laid, Loads, Setting, laid, loads_of
from gardenframe.strength.response import Response
from gardenframe.strength.rows import CheckRow
from gardenframe.strength.stiffness import Model, respond


@dataclass(frozen=True, kw_only=True)
class Anchoring:
    """What the reader chose of the anchors; the rest is usual.

    Parameters
    ----------
    options : mapping
        By base or joint: depth_m, width_m, screws, ballast_kg, tested_n, grip_n, friction.
    bed : str
        auto, none, open (boards lift out of the soil) or bottom (the soil is lifted with them).
    fill : str
        Soil in the bed.
    """

    options: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    bed: str = "auto"
    fill: str = "topsoil"


@dataclass(frozen=True, kw_only=True)
class Standing:
    """A frame with all that stands on it, and whether it carries that.

    Parameters
    ----------
    frame : Frame
        Couplings included.
    fitted : sequence of Fitted
        What is put on at each joint: how stiffly it turns, what it holds.
    covered : sequence of Covered
        How each panel is covered: the number of its fixings.
    site : Site
        Wind, snow, soil.
    members : mapping
        Members by key.
    extra : sequence of Case
        Further permanent cases of a build: soil, water.
    condition : str
        bare, covered or grown.
    stage : str
        Growth stage of the plants.
    order : str
        amplified (live) or second (at rest).
    anchoring : Anchoring
        What the reader chose of the anchors.
    """

    frame: Frame
    fitted: Sequence[Fitted]
    covered: Sequence[Covered]
    site: Site
    members: Mapping[str, Member]
    extra: Sequence[Case] = ()
    condition: str = "grown"
    stage: str = "full"
    order: str = "second"
    anchoring: Anchoring = field(default_factory=Anchoring)
    # these two are shared with `under`
    _model: list[Model] = field(default_factory=list, repr=False, compare=False)
    _laid: list[Laid] = field(default_factory=list, repr=False, compare=False)

    @cached_property
    def loads(self) -> Loads:
        """Cases, how they are combined, and what they rest on."""
        setting = Setting(
            self.frame, self.site, self.members, load_coverings(), load_plants(), self.condition, self.stage
        )
        if not self._laid:
            self._laid.append(laid(setting))
        return loads_of(setting, self.extra, self._laid[0])

    @property
    def model(self) -> Model:
        """The frame ready to be loaded."""
        if not self._model:
            self._model.append(Model(self.frame, self.members, joint_springs(self.frame, self.fitted), fine=True))
        return self._model[0]

    @cached_property
    def response(self) -> Response:
        """What the frame does under the combinations."""
        return respond(self.model, self.loads.cases, self.loads.combinations, order=self.order)

    @cached_property
    def checks(self) -> Checks:
        """Every check of members, fittings, ties, movements and the whole frame."""
        return self.checked(self.response, self.loads.combinations)

    def checked(self, response: Response, combinations: Sequence[Combination], buckling: bool = True) -> Checks:
        """Return every check of a response of this frame to combinations of its cases."""
        return check(
            response,
            self.fitted,
            self.members,
            combinations,
            covered=() if self.condition == "bare" else self.covered,
            panel_force_n=self.loads.faces,
            fixings=load_fixings(),
            buckling=buckling,
        )

    @cached_property
    def anchors(self) -> Anchors:
        """What holds every foot, and the whole, down and in place."""
        return self.anchored(self.response, self.loads.combinations)

    def anchored(self, response: Response, combinations: Sequence[Combination]) -> Anchors:
        """Return what holds this frame under a response to combinations of its cases."""
        chosen = self.anchoring
        return anchors(
            response, self.frame, self.site, self.members, combinations,
            options=chosen.options, bed=chosen.bed, fill=chosen.fill,
        )  # fmt: skip

    @property
    def rows(self) -> tuple[CheckRow, ...]:
        """The worst row of every kind of check, of the frame and of what holds it."""
        return (*self.checks.rows, *self.anchors.rows)

    def under(self, site: Site | None = None, condition: str = "", order: str = "") -> Self:
        """Return the same frame on another site or in another condition; its stiffness is not worked out again."""
        return replace(self, site=site or self.site, condition=condition or self.condition, order=order or self.order)

"""What every build type offers to the road: its fields, checked, and the frame they make.

A build is one file. The road calls `frame`, and `loads`, `checks`, `items`, `steps`, `cautions`, `working` where a
build has something to add; it never asks which build it is.
"""

import abc
import dataclasses
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import TYPE_CHECKING, Any, ClassVar, Self

from gardenframe import units
from gardenframe.builds.fields import Field, FieldError, Written
from gardenframe.errors import InputError
from gardenframe.geometry.frame import Frame
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.strength.limits import gust_limit, limits_of
from gardenframe.strength.standing import Anchoring

if TYPE_CHECKING:
    from gardenframe.builds.chart import Chart, HeatMap
    from gardenframe.geometry.pieces import Loose
    from gardenframe.materials.benders import Bender
    from gardenframe.strength.cases import Case
    from gardenframe.strength.limits import Limit
    from gardenframe.strength.rows import CheckRow
    from gardenframe.working import Step


@dataclasses.dataclass(frozen=True, kw_only=True)
class Build(abc.ABC):
    """Base of the build types: a frozen record of checked fields.

    Raises
    ------
    FieldError
        For the first field that cannot be used, naming its limits.
    """

    key: ClassVar[str]
    title: ClassVar[str]
    examples: ClassVar[Mapping[str, Mapping[str, Any]]] = {}
    stronger: ClassVar[tuple[str, ...]] = ()  # fields that a reader may change to make it stronger
    nearer: ClassVar[tuple[str, ...]] = ()  # lengths of those that are stronger the smaller they are
    sizes: ClassVar[tuple[str, ...]] = ("tube",)  # choices whose options rise in size
    indoors: ClassVar[bool] = False  # under a roof: neither wind nor snow of the site reaches it
    in_a_gust: ClassVar[str] = ""  # what to do above the limit, where no cover can be taken off
    covers_in_steps: ClassVar[bool] = False  # its own steps say when its coverings go on
    charted: ClassVar[str] = ""  # the length that a chart of cost runs over; else its height, length or width

    def __post_init__(self) -> None:
        for field in self.fields():
            object.__setattr__(self, field.key, field.check(getattr(self, field.key)))
        self.fit_together()

    @classmethod
    @lru_cache
    def fields(cls) -> tuple[Field, ...]:
        """Every field, in the order in which a reader meets them."""
        return tuple(Field(key=f.name, **f.metadata["field"]) for f in dataclasses.fields(cls) if "field" in f.metadata)

    @classmethod
    def field(cls, key: str) -> Field:
        """One field by its key; InputError where there is none."""
        for field in cls.fields():
            if field.key == key:
                return field
        raise InputError(cls.title, key, f"one of: {', '.join(f.key for f in cls.fields())}")

    @classmethod
    def typed(cls, system: str = "metric", **given: str) -> Self:
        """Return a build from what a reader typed (`width_m="6 ft 2 in"`)."""
        values: dict[str, Any] = {}
        for key, text in given.items():
            field = cls.field(key)
            numeric = field.kind not in ("choice", "choices", "flag", "text", "table") and isinstance(text, str)
            values[key] = units.parse(text, field.kind, system) if numeric else text
        return cls(**values)

    def changed(self, **values: Any) -> Self:
        """Return the build with some fields changed, checked again."""
        for key in values:
            self.field(key)
        return dataclasses.replace(self, **values)

    def values(self) -> dict[str, Any]:
        """Every field's value by key."""
        return {field.key: getattr(self, field.key) for field in self.fields()}

    def used(self, field: Field) -> bool:
        """Whether a field matters for the values of the others."""
        return all(getattr(self, key) in values for key, values in field.when)

    def fit_together(self) -> None:  # noqa: B027 - most builds have nothing to refuse
        """Raise FieldError where fields that are each allowed do not go together."""

    def wrong(self, key: str, needs: str, do: str = "") -> FieldError:
        """Return the error for a field whose value does not go with the others."""
        field = self.field(key)
        return FieldError(key, field.label, Written(field.written(getattr(self, key))), needs, do)

    @property
    def shared_m2(self) -> float | None:
        """Area that a chart shares the cost over; none where it shows the whole cost. [m²]"""
        return None

    @abc.abstractmethod
    def frame(self, shop: Shop) -> Frame:
        """Return the frame, its runs laid for the joining chosen and the shop's fittings."""

    def loads(self, site: Site) -> "Iterable[Case]":
        """Return further load cases, soil or water: a build may add cases, never drop one."""
        return ()

    def contents(self, frame: Frame, site: Site) -> "Iterable[Case]":
        """Return further permanent cases that name runs of the frame: soil that pushes, water that stands on rails."""
        return ()

    def anchoring(self) -> Anchoring:
        """Return what the reader chose of the anchors: depths, ballast, whether a bed has a bottom."""
        return Anchoring()

    def checks(self, plan: Any) -> "Iterable[CheckRow]":
        """Return further rows for the table of checks."""
        return ()

    def benders(self) -> "Mapping[str, Bender] | None":
        """Return the benders that its tubes are bent on, none for our table."""
        return None

    def extra_pieces(self, plan: Any) -> "Iterable[Loose]":
        """Return pieces cut and bought with the rest that are no runs of the frame; it may read frame and fitted."""
        return ()

    def limits(self, plan: Any) -> "Iterable[Limit]":
        """Return the gust and the snow that it carries; a build whose cover is taken in before a storm has its own."""
        return limits_of(plan.standing)

    def gust_m_per_s(self, plan: Any) -> float:
        """Return the gust that it carries as it is used, quickly: what changes of it are compared by. [m/s]"""
        return gust_limit(dataclasses.replace(plan.standing, order="amplified"), bent=False).value

    def items(self, plan: Any) -> Iterable[Any]:
        """Return what is bought beyond sticks, fittings, coverings and caps."""
        return ()

    def steps(self, plan: Any) -> Iterable[Any]:
        """Return the steps of building it, in order."""
        return ()

    def cautions(self) -> Iterable[str]:
        """Return tags of the cautions that apply, beyond those of every build."""
        return ()

    def working(self, plan: Any, system: str) -> "Iterable[tuple[str, list[Step]]]":
        """Return shown arithmetic as (heading, steps), for what a learner should be able to do alone."""
        return ()

    def charts(self, plan: Any, system: str) -> "Iterable[Chart | HeatMap]":
        """Return charts of what this build alone asks about: sun, heat, a lid."""
        return ()

    def warnings(self, plan: Any) -> Iterable[str]:
        """Return sentences about what is beyond what people build."""
        return ()

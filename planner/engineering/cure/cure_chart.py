"""The site's cure chart: planned minutes by material, set and thickness. The maker's chart always wins."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import Sentence, _
from planner.engineering.cure.estimate import CureEstimate, whole_up
from planner.engineering.limits import Limits

CHART_THICKNESS = Limits(0.1, 500.0, "mm")
CHART_MINUTES = Limits(1, 2880, "min")
AGREE_MIN = 10
"""A chart and a model that differ by no more than this agree [min]."""


class OffChartError(InvalidValueError):
    """The chart has no figure here, and none is made up; the message says what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartPoint:
    """One line of a chart.

    Args:
        thickness_mm: of the repair [mm].
        timed_min: from the timer's start [min].

    """

    thickness_mm: float
    timed_min: int

    def __post_init__(self) -> None:
        CHART_THICKNESS.check("thickness in a chart", self.thickness_mm)
        CHART_MINUTES.check("minutes in a chart", self.timed_min)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartReading:
    """What a chart gives for a thickness, and between which of its lines it was read [min]."""

    timed_min: int
    between: tuple[ChartPoint, ChartPoint]

    @property
    def interpolated(self) -> bool:
        """Whether the thickness is not a line of the chart itself."""
        return self.between[0] != self.between[1]

    @property
    def words(self) -> Sentence:
        """The minutes and where on the chart they are from."""
        low, high = self.between
        if not self.interpolated:
            return _("{timed_min} min, a line of the chart", timed_min=self.timed_min)
        return _(
            "{timed_min} min, in a straight line between {low_mm:g} mm ({low_min} min) and {high_mm:g} mm "
            "({high_min} min), rounded up",
            timed_min=self.timed_min,
            low_mm=low.thickness_mm,
            low_min=low.timed_min,
            high_mm=high.thickness_mm,
            high_min=high.timed_min,
        )

    def __str__(self) -> str:
        return str(self.words)


@dataclass(frozen=True, slots=True, kw_only=True)
class CureChart:
    """A chart for one material on one kind of set, lines in order of thickness."""

    material: str
    set_kind: str
    points: tuple[ChartPoint, ...]

    def __post_init__(self) -> None:
        if not self.points:
            raise InvalidValueError(_("the chart of {material} has no lines", material=self.material))
        for one, two in pairwise(self.points):
            if two.thickness_mm <= one.thickness_mm or two.timed_min < one.timed_min:
                raise InvalidValueError(
                    _(
                        "the chart of {material}: lines must grow in thickness and never in fewer minutes",
                        material=self.material,
                    )
                )

    def read(self, thickness_mm: float) -> ChartReading:
        """Planned minutes for a thickness, in a straight line between neighbouring lines, rounded up.

        Args:
            thickness_mm: of the measured injury [mm].

        Raises:
            OffChartError: outside the chart's lines; a chart is never extrapolated.

        """
        CHART_THICKNESS.check("thickness", thickness_mm)
        for one, two in pairwise((self.points[0], *self.points)):
            if one.thickness_mm <= thickness_mm <= two.thickness_mm:
                return _between(one, two, thickness_mm)
        raise OffChartError(self._refusal(thickness_mm))

    def _refusal(self, thickness_mm: float) -> Sentence:
        low, high = self.points[0].thickness_mm, self.points[-1].thickness_mm
        return _(
            "the chart of {material} on {set_kind} runs from {low:g} to {high:g} mm and is not carried on to "
            "{thickness_mm:g} mm: ask the material's maker for a line there",
            material=self.material,
            set_kind=self.set_kind,
            low=low,
            high=high,
            thickness_mm=thickness_mm,
        )


def chart_find(charts: Iterable[CureChart], *, material: str, set_kind: str) -> CureChart:
    """The chart of a material on a kind of set; OffChartError where the site has none."""
    for chart in charts:
        if (chart.material, chart.set_kind) == (material, set_kind):
            return chart
    raise OffChartError(
        _(
            "there is no chart of {material} on {set_kind}: enter the maker's chart first",
            material=material,
            set_kind=set_kind,
        )
    )


class ChartVerdict(StrEnum):
    """What the model says of a chart's minutes."""

    AGREES = "agrees"
    LONGER = "longer"
    SHORT = "short"
    REVERSION = "reversion"


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartCheck:
    """The model's verdict beside a chart's figure; planned minutes are never fewer than the chart's.

    Args:
        verdict: agrees, longer, short, reversion.
        chart_min: what the chart gives [min].
        model_min: what the model would need [min].
        message: the verdict in words.

    """

    verdict: ChartVerdict
    chart_min: int
    model_min: int
    message: Sentence

    @property
    def planned_min(self) -> int:
        """What a plan uses: the chart, never shortened [min]."""
        return self.chart_min


def chart_check(
    reading: ChartReading, *, needed: CureEstimate, charted: CureEstimate, thickness_m: float
) -> ChartCheck:
    """Put the model's verdict beside what the chart gives.

    Args:
        reading: from the chart.
        needed: the model's own estimate of the same repair.
        charted: what the model says of the same repair cured by the chart.
        thickness_m: of the whole slab, to name the slowest place [m].

    Returns:
        the verdict; a chart may stand although the model would have been quicker.

    """
    chart_min, model_min = reading.timed_min, needed.timed_min
    short = model_min - chart_min
    verdict, message = ChartVerdict.AGREES, _("the model agrees")
    if short > AGREE_MIN:
        place = _place(needed.slowest.depth_m, thickness_m)
        verdict, message = (
            ChartVerdict.SHORT,
            _("short by {short} min at the {place:phrase}, says the model", short=short, place=place),
        )
    elif not charted.within_reversion:
        verdict, message = ChartVerdict.REVERSION, _("the faces pass the reversion limit, says the model")
    elif -short > AGREE_MIN:
        verdict = ChartVerdict.LONGER
        message = _("{longer} min longer than the model needs; the chart stands", longer=-short)
    return ChartCheck(verdict=verdict, chart_min=chart_min, model_min=model_min, message=message)


def _between(one: ChartPoint, two: ChartPoint, thickness_mm: float) -> ChartReading:
    if thickness_mm in (one.thickness_mm, two.thickness_mm):
        line = one if thickness_mm == one.thickness_mm else two
        return ChartReading(timed_min=line.timed_min, between=(line, line))
    share = (thickness_mm - one.thickness_mm) / (two.thickness_mm - one.thickness_mm)
    return ChartReading(
        timed_min=whole_up(one.timed_min + share * (two.timed_min - one.timed_min)), between=(one, two)
    )


def _place(depth_m: float, thickness_m: float) -> Sentence:
    share = depth_m / thickness_m
    if 0.4 <= share <= 0.6:
        return _("middle")
    depth_mm = depth_m * 1000
    if share < 0.4:
        return _("point {depth_mm:.0f} mm from the inside, nearer the inside", depth_mm=depth_mm)
    return _("point {depth_mm:.0f} mm from the inside, nearer the outside", depth_mm=depth_mm)

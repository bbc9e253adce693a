"""From a route and an injury to the stages of a job, and an injury held against the site's limits."""

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from planner.domain.errors import InvalidValueError
from planner.domain.injury import Injury, InjuryMeasure
from planner.domain.sentences import _
from planner.domain.work import Stage, StageKind


@dataclass(frozen=True, slots=True, kw_only=True)
class StageTemplate:
    """One stage of a route: base minutes [min] and minutes for each unit of what the injury measures.

    `largest_units` is as far as the site's chart goes; past it the minutes are an extrapolation.
    """

    name: str
    kind: StageKind
    base_minutes: int
    minutes_per_unit: Decimal = Decimal(0)
    unit: InjuryMeasure = InjuryMeasure.NOTHING
    largest_units: int | None = None
    crew: int = 0
    skill: str | None = None
    pausable: bool = False
    block: bool = False
    place: str | None = None
    min_wait_after: int = 0
    max_wait_after: int | None = None

    def __post_init__(self) -> None:
        if self.base_minutes < 0 or self.minutes_per_unit < 0:
            raise InvalidValueError(_("the minutes of {name} must not be negative", name=self.name))

    def minutes_for(self, injury: Injury) -> int:
        """Whole minutes for this injury, rounded up [min]."""
        exact = self.base_minutes + self.minutes_per_unit * injury.measured(self.unit)
        return int(Decimal(exact).to_integral_value(rounding=ROUND_CEILING))

    def past_chart(self, injury: Injury) -> bool:
        """Whether the injury is larger than the chart behind the minutes."""
        return self.largest_units is not None and injury.measured(self.unit) > self.largest_units

    def stage_for(self, injury: Injury) -> Stage:
        """The stage of a job with its minutes for this injury."""
        return Stage(
            name=self.name,
            kind=self.kind,
            minutes=self.minutes_for(injury),
            crew=self.crew,
            skill=self.skill,
            pausable=self.pausable,
            block=self.block,
            place=self.place,
            min_wait_after=self.min_wait_after,
            max_wait_after=self.max_wait_after,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class InjuryLimit:
    """The largest injury that a site repairs in one zone and size class; None: no limit of that kind."""

    source: str
    largest_length_mm: int | None = None
    largest_width_mm: int | None = None
    largest_depth_mm: int | None = None
    most_plies: int | None = None

    def faults(self, injury: Injury) -> tuple[str, ...]:
        """How the injury passes the limit, in plain words with both figures; empty where it does not."""
        pairs = (
            (_("length"), injury.length_mm, self.largest_length_mm, " mm"),
            (_("width"), injury.width_mm, self.largest_width_mm, " mm"),
            (_("depth"), injury.depth_mm, self.largest_depth_mm, " mm"),
            (_("number of plies cut"), injury.plies, self.most_plies, ""),
        )
        return tuple(
            _(
                "its {name} of {size}{unit} is over the limit of {limit}{unit} ({source})",
                name=name,
                size=size,
                unit=unit,
                limit=limit,
                source=self.source,
            )
            for name, size, limit, unit in pairs
            if limit is not None and size > limit
        )

"""A cure's trace as the drawing that page and paper show, with the table of its numbered events."""

from collections.abc import Mapping, Sequence

from planner.domain.told_units import PLACES
from planner.domain.units import pressure_in, temperature_in
from planner.selectors.preferences import Reading
from planner.selectors.reading_units import sentence_words
from planner.services.cure_traces import CureTrace
from planner.web.charts.cure_log_svg import Axis, Band, Event, Line, LogDrawing, cure_log_svg

PAD_AXES: Mapping[str, Axis] = {
    "°C": Axis(top=200, step=20, unit="°C"),
    "°F": Axis(top=400, step=50, unit="°F"),
}
BAG_STEPS: Mapping[str, tuple[float, float, float]] = {
    "kPa": (500.0, 50.0, 250.0),
    "psi": (70.0, 10.0, 35.0),
    "bar": (5.0, 0.5, 2.5),
}
"""Of each unit: the least top of the axis, its step, and the step of an axis that goes higher."""
INSIDE, OUTSIDE, BAGS = "#a63a00", "#0b6b86", "#6a6a6a"

Curve = Sequence[float | None]


def cure_chart_svg(trace: CureTrace, reading: Reading) -> str:
    """Both pads and the pressure with the plan's bands and numbered events, in the reader's units."""
    scale = _Scale(trace, reading)
    return cure_log_svg(
        LogDrawing(
            minutes=trace.minutes,
            lines=_lines(trace, scale),
            bands=_bands(trace, scale),
            events=cure_chart_events(trace, reading),
        )
    )


def cure_chart_events(trace: CureTrace, reading: Reading) -> list[Event]:
    """The numbers and words of the drawing's flags."""
    return [
        Event(
            number=number,
            name=sentence_words(event.words, reading),
            from_min=event.from_min,
            to_min=event.to_min,
            odd=event.odd,
        )
        for number, event in enumerate(trace.events, start=1)
    ]


class _Scale:
    """The two axes of a trace, and its figures on them."""

    def __init__(self, trace: CureTrace, reading: Reading) -> None:
        self.pads_in, self.bags_in = reading.temperature_unit, reading.pressure_unit
        self.pads = PAD_AXES[self.pads_in]
        least, step, wide = BAG_STEPS[self.bags_in]
        top = max((self.bag(value) for value in trace.pressure_kpa if value is not None), default=0.0)
        step = step if top <= least else wide
        self.bags = Axis(top=max(least, step * (top // step + 1)), step=step, unit=self.bags_in)

    def pad(self, celsius: float) -> float:
        """A temperature [°C] on the axis of the pads."""
        return temperature_in(celsius, self.pads_in)

    def bag(self, kilopascal: float) -> float:
        """A pressure [kPa] on the axis of the bags."""
        return pressure_in(kilopascal, self.bags_in)

    def pad_curve(self, curve: Curve) -> Curve:
        """A pad's curve; None stays where nothing was read."""
        return [None if value is None else self.pad(value) for value in curve]

    def bag_curve(self, curve: Curve) -> Curve:
        """The bags' curve."""
        return [None if value is None else self.bag(value) for value in curve]

    def pad_words(self, celsius: float) -> str:
        """A temperature in words."""
        return f"{self.pad(celsius):.0f} {self.pads_in}"

    def bag_words(self, kilopascal: float) -> str:
        """A pressure in words."""
        return f"{self.bag(kilopascal):.{PLACES[self.bags_in]}f} {self.bags_in}"


def _lines(trace: CureTrace, scale: _Scale) -> list[Line]:
    inside, outside = scale.pad_curve(trace.inside_c), scale.pad_curve(trace.outside_c)
    unit = scale.pads_in
    lines = [
        Line(name=f"inside pad, {unit}", values=inside, axis=scale.pads, colour=INSIDE),
        Line(name=f"outside pad, {unit}", values=outside, axis=scale.pads, colour=OUTSIDE, dashes="9 4"),
    ]
    if trace.pressure_kpa:
        bags = scale.bag_curve(trace.pressure_kpa)
        name = f"bags, {scale.bags_in}"
        lines.append(Line(name=name, values=bags, axis=scale.bags, colour=BAGS, dashes="2 3"))
    return lines


def _bands(trace: CureTrace, scale: _Scale) -> list[Band]:
    plan = trace.plan
    hottest = max(plan["inside_hold_c"], plan["outside_hold_c"]) + plan["overshoot_c"]
    levels = [
        ("preheat", plan["preheat_low_c"], plan["preheat_high_c"]),
        (f"cure: {scale.pad_words(plan['start_c'])} to {scale.pad_words(hottest)}", plan["start_c"], hottest),
        (f"release below {scale.pad_words(plan['release_c'])}", plan["release_c"], plan["release_c"]),
    ]
    bands = [
        Band(name=name, low=scale.pad(low), high=scale.pad(high), axis=scale.pads)
        for name, low, high in levels
    ]
    if trace.pressure_kpa:
        least = plan["pressure_kpa"] - plan["pressure_slack_kpa"]
        level = scale.bag(least)
        name = f"bags at least {scale.bag_words(least)}"
        bands.append(Band(name=name, low=level, high=level, axis=scale.bags, name_below=True))
    return bands

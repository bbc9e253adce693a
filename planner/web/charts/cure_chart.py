"""A cure's trace as the drawing that page and paper show, with the table of its numbered events."""

from planner.services.cure_traces import CureTrace
from planner.web.charts.cure_log_svg import Axis, Band, Event, Line, LogDrawing, cure_log_svg

CELSIUS = Axis(top=200, step=20, unit="°C")
INSIDE, OUTSIDE, BAGS = "#a63a00", "#0b6b86", "#6a6a6a"


def cure_chart_svg(trace: CureTrace) -> str:
    """Both pads and the pressure with the plan's bands and numbered events."""
    return cure_log_svg(
        LogDrawing(
            minutes=trace.minutes,
            lines=_lines(trace),
            bands=_bands(trace),
            events=cure_chart_events(trace),
        )
    )


def cure_chart_events(trace: CureTrace) -> list[Event]:
    """The numbers and words of the drawing's flags."""
    return [
        Event(number=number, name=event.words, from_min=event.from_min, to_min=event.to_min, odd=event.odd)
        for number, event in enumerate(trace.events, start=1)
    ]


def _pressure_axis(trace: CureTrace) -> Axis:
    top = max((value for value in trace.pressure_kpa if value is not None), default=250.0)
    step = 50.0 if top <= 500 else 250.0
    return Axis(top=max(500.0, step * (top // step + 1)), step=step, unit="kPa")


def _lines(trace: CureTrace) -> list[Line]:
    lines = [
        Line(name="inside pad, °C", values=trace.inside_c, axis=CELSIUS, colour=INSIDE),
        Line(name="outside pad, °C", values=trace.outside_c, axis=CELSIUS, colour=OUTSIDE, dashes="9 4"),
    ]
    if trace.pressure_kpa:
        axis = _pressure_axis(trace)
        lines.append(Line(name="bags, kPa", values=trace.pressure_kpa, axis=axis, colour=BAGS, dashes="2 3"))
    return lines


def _bands(trace: CureTrace) -> list[Band]:
    plan = trace.plan
    hold = max(plan["inside_hold_c"], plan["outside_hold_c"])
    bands = [
        Band(name="preheat", low=plan["preheat_low_c"], high=plan["preheat_high_c"], axis=CELSIUS),
        Band(
            name=f"cure: {plan['start_c']:.0f} °C to {hold + plan['overshoot_c']:.0f} °C",
            low=plan["start_c"], high=hold + plan["overshoot_c"], axis=CELSIUS,
        ),
        Band(
            name=f"release below {plan['release_c']:.0f} °C",
            low=plan["release_c"], high=plan["release_c"], axis=CELSIUS,
        ),
    ]  # fmt: skip
    if trace.pressure_kpa:
        least = plan["pressure_kpa"] - plan["pressure_slack_kpa"]
        axis = _pressure_axis(trace)
        name = f"bags at least {least:.0f} kPa"
        bands.append(Band(name=name, low=least, high=least, axis=axis, name_below=True))
    return bands

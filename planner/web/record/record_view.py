"""A record with its drawings and photos, ready to be written on page or paper."""

from base64 import b64encode
from dataclasses import dataclass
from typing import Any

from planner.selectors.cure_logs import order_log_list
from planner.selectors.preferences import AS_KEPT
from planner.selectors.repair_records import RepairRecord, photo_get
from planner.services.cure_traces import cure_trace_get
from planner.web.charts.cure_chart import cure_chart_events, cure_chart_svg
from planner.web.charts.cure_log_svg import Event
from planner.web.here import Here


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoView:
    """A photo with where its picture comes from: an address on the page, the picture itself on paper."""

    kept: dict[str, Any]
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LogView:
    """A log as it was kept, drawn again from its own bytes."""

    kept: dict[str, Any]
    drawing: str
    events: list[Event]


@dataclass(frozen=True, slots=True, kw_only=True)
class InjuryView:
    """An injury with its photos and the logs of its cures."""

    kept: dict[str, Any]
    photos: list[PhotoView]
    logs: list[LogView]
    readings: list[dict[str, Any]]
    stages: list[dict[str, Any]]
    watches: list[dict[str, Any]]
    taken_back: list[dict[str, Any]]


def injury_views(here: Here, record: RepairRecord, *, paper: bool) -> list[InjuryView]:
    """The injuries of a record in their order."""
    rows = {log.pk: log for log in order_log_list(user=here.user, order=record.order)}
    drawn: dict[int, list[LogView]] = {}
    for kept in record.content["logs"]:
        trace = cure_trace_get(logged_cure=rows[kept["id"]])
        view = LogView(
            kept=kept, drawing=cure_chart_svg(trace, AS_KEPT), events=cure_chart_events(trace, AS_KEPT)
        )
        drawn.setdefault(kept["injury"], []).append(view)
    return [
        InjuryView(
            kept=injury,
            photos=[_photo(here, kept, paper) for kept in injury["photos"]],
            logs=drawn.get(injury["id"], []),
            readings=[each for each in record.content.get("readings", []) if each["injury"] == injury["id"]],
            stages=[stage for stage in record.content["stages"] if stage["injury"] == injury["id"]],
            watches=[each for each in record.content.get("watches", []) if each["injury"] == injury["id"]],
            taken_back=[
                each for each in record.content.get("taken_back", []) if each["injury"] == injury["id"]
            ],
        )
        for injury in record.content["injuries"]
    ]


def _photo(here: Here, kept: dict[str, Any], paper: bool) -> PhotoView:
    if not paper:
        return PhotoView(kept=kept, source="")
    photo = photo_get(user=here.user, site=here.site, photo_id=kept["id"])
    return PhotoView(kept=kept, source=f"data:image/jpeg;base64,{b64encode(bytes(photo.jpeg)).decode()}")

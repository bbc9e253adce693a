"""How long the plan page's timeline takes for 300 stages: `python -m tests.bench.timeline`."""

import gzip
import os
import time
from dataclasses import replace
from statistics import median
from zoneinfo import ZoneInfo

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "planner.config.settings.testing")
django.setup()

from django.template.loader import render_to_string  # noqa: E402

from planner.domain.bay_time import Span  # noqa: E402
from planner.domain.plan import PlannedJob, Schedule  # noqa: E402
from planner.domain.problem import BayProblem  # noqa: E402
from planner.domain.resources import HeaterSet, Shift, Technician  # noqa: E402
from planner.web.timeline.bars import Wording  # noqa: E402
from planner.web.timeline.board import View, board  # noqa: E402
from planner.web.timeline.items import LaneKind  # noqa: E402
from planner.web.timeline.scale import Zoom  # noqa: E402
from tests.lib import one_cure  # noqa: E402

JOBS, SETS, PEOPLE, DAYS = 43, 8, 12, 7


def _problem() -> BayProblem:
    shifts = tuple(Shift(span=Span(day * 1440, day * 1440 + 720)) for day in range(DAYS))
    return one_cure.problem(
        horizon_end=DAYS * 1440,
        jobs=tuple(one_cure.job(f"WO-{number:04d}") for number in range(JOBS)),
        heater_sets=tuple(HeaterSet(id=f"s{each}", channels=1, power_kw=1.0) for each in range(SETS)),
        technicians=tuple(
            Technician(id=f"t{each}", skills=frozenset({"cure"}), shifts=shifts) for each in range(PEOPLE)
        ),
    )


def _job(number: int) -> PlannedJob:
    planned = one_cure.planned_job(f"WO-{number:04d}", shift=number // SETS * 1440 + number % SETS * 10)
    stages = (
        replace(
            stage,
            technicians=(f"t{number % PEOPLE}",) if stage.technicians else (),
            heater_set=f"s{number % SETS}" if stage.heater_set else None,
        )
        for stage in planned.stages
    )
    return PlannedJob(id=planned.id, stages=tuple(stages))


def _page(problem: BayProblem, schedule: Schedule, kind: LaneKind) -> str:
    view = View(kind=kind, zoom=Zoom.SHIFT, now=100, window=Span(0, problem.horizon_end))
    words = Wording(origin=problem.origin, zone=ZoneInfo(problem.time_zone))
    context = {"board": board(problem, schedule, view, words), "grid_minutes": 5, "lane_title": "lanes"}
    return render_to_string("timeline/board.html", context)


def main() -> None:
    """Print the median of seven drawings for each kind of lane."""
    problem = _problem()
    schedule = Schedule(jobs=tuple(_job(number) for number in range(JOBS)), watch=())
    for kind in LaneKind:
        times, page = [], ""
        for _ in range(7):
            begun = time.perf_counter()
            page = _page(problem, schedule, kind)
            times.append(time.perf_counter() - begun)
        size = len(gzip.compress(page.encode())) / 1000
        print(f"{kind}: {median(times) * 1000:.0f} ms, {size:.1f} kB gzip")


if __name__ == "__main__":
    main()

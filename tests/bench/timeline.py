"""What the plan page's timeline costs with 300 stages, and how it pans: `python -m tests.bench.timeline`."""

import gzip
import itertools
import os
import time
from dataclasses import replace
from pathlib import Path
from statistics import median
from zoneinfo import ZoneInfo

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "planner.config.settings.testing")
django.setup()

from django.template.loader import render_to_string  # noqa: E402
from playwright.sync_api import sync_playwright  # noqa: E402

from planner.domain.bay_time import Span  # noqa: E402
from planner.domain.plan import PlannedJob, Schedule  # noqa: E402
from planner.domain.problem import BayProblem  # noqa: E402
from planner.domain.resources import HeaterSet, Shift, Technician  # noqa: E402
from planner.web.timeline.bars import Wording  # noqa: E402
from planner.web.timeline.board import View, board  # noqa: E402
from planner.web.timeline.items import LaneKind  # noqa: E402
from planner.web.timeline.scale import Zoom  # noqa: E402
from tests.bench.panning import PAN  # noqa: E402
from tests.conftest import CHROMIUM, CHROMIUM_ARGUMENTS  # noqa: E402
from tests.lib import one_cure  # noqa: E402

JOBS, SETS, PEOPLE, DAYS = 43, 8, 12, 7
STATIC = Path(__file__).resolve().parents[2] / "planner" / "web" / "static" / "tyrewright"
STYLES = ("tokens.css", "base.css", "controls.css", "board.css")


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


def _page(problem: BayProblem, schedule: Schedule, kind: LaneKind, zoom: Zoom = Zoom.SHIFT) -> str:
    view = View(kind=kind, zoom=zoom, now=100, window=Span(0, problem.horizon_end))
    words = Wording(origin=problem.origin, zone=ZoneInfo(problem.time_zone))
    context = {"board": board(problem, schedule, view, words), "grid_minutes": 5, "lane_title": "lanes"}
    return render_to_string("timeline/board.html", context)


def _pan(problem: BayProblem, schedule: Schedule) -> None:
    """Print the frames a second at which all of it scrolls by, on both screens."""
    style = "".join((STATIC / name).read_text(encoding="utf-8") for name in STYLES)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=CHROMIUM_ARGUMENTS)
        for width, height in ((1024, 768), (1920, 1080)):
            page = browser.new_page(viewport={"width": width, "height": height})
            for kind, zoom in itertools.product(LaneKind, Zoom):
                drawn = _page(problem, schedule, kind, zoom)
                page.set_content(f"<style>{style}</style><main>{drawn}</main>")
                bars, frames = page.locator("#board .bar").count(), page.evaluate(PAN)
                print(f"{width} px, {kind} by {zoom}, {bars} bars: {frames:.0f} frames a second")
        browser.close()
    print(f"load {os.getloadavg()[0]:.1f}")


def main() -> None:
    """Print the median of seven drawings for each kind of lane, then how they pan."""
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
    _pan(problem, schedule)


if __name__ == "__main__":
    main()

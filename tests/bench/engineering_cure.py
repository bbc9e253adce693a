"""Benchmarks of the cure; run by hand: OMP_NUM_THREADS=1 python -m tests.bench.engineering_cure."""

import statistics
import sys
import time
from collections.abc import Callable, Iterator
from datetime import datetime
from typing import Any

import numpy as np

from planner.engineering.cure.bands import cure_bands
from planner.engineering.cure.estimate import cure_estimate
from planner.engineering.cure_log.judge import cure_judge
from planner.engineering.cure_log.read import Row, cure_log_read
from planner.services.cure_log_file import cure_log_rows
from tests.lib.cure_logs import COLUMNS, PLAN, rows
from tests.lib.cures import case


def seconds(work: Callable[[], object], times: int) -> float:
    """Processor time of the middle one of several runs, whatever else the machine does [s]."""
    taken = []
    for _ in range(times):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return statistics.median(taken)


def day_log() -> None:
    """A day at one reading a second, read and judged."""
    minutes = np.arange(0, 1440, 1 / 60)
    inside = np.interp(minutes, (0, 40, 1300, 1400), (60, 140, 140, 80))
    table = rows(minutes, inside, inside - 1, np.where(minutes < 1395, 30.0, 0.0))
    start = time.process_time()
    cure_judge(cure_log_read(table, COLUMNS), PLAN)
    tell("24 h log at 1 s", time.process_time() - start)
    lines = [
        f"{row['Time']:%d/%m/%Y %H:%M:%S};{row['In']:.2f};{row['Out']:.2f};{row['Bag']}"
        for row in dated(table)
    ]
    raw = "\n".join(["Time;In;Out;Bag", *lines]).replace(".", ",").encode()
    start = time.process_time()
    cure_judge(cure_log_read(cure_log_rows(raw=raw, name="day.csv"), COLUMNS), PLAN)
    tell("the same from its CSV, day before month, decimal commas", time.process_time() - start)


def dated(table: list[Row]) -> Iterator[dict[str, Any]]:
    """The rows with their times as such."""
    for row in table:
        yield {**row, "Time": datetime.fromisoformat(str(row["Time"]))}


def tell(what: str, taken_s: float) -> None:
    """One line."""
    sys.stdout.write(f"{what}: {taken_s * 1000:.0f} ms\n")


def main() -> None:
    """Run them all."""
    for thickness_mm in (20, 60, 120):
        repair = case(thickness_mm)
        tell(f"one repair of {thickness_mm} mm", seconds(lambda: cure_estimate(repair), 9))  # noqa: B023
    tell("10 000 samples of 60 mm", seconds(lambda: cure_bands(case(60), samples=10_000), 1))
    day_log()


if __name__ == "__main__":
    main()

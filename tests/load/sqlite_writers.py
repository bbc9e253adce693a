"""Many writers on one SQLite file: `python -m tests.load.sqlite_writers [--writers 8] [--seconds 60]`."""

import argparse
import multiprocessing
import tempfile
import time
from pathlib import Path

import django

from tests.load.scratch import scratch_open

MOST_WRITERS = 16
MOST_SECONDS = 120.0


def main() -> None:
    """Let the writers register tyres, then compare what they were told with what is there."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--writers", type=int, default=8)
    parser.add_argument("--seconds", type=float, default=60)
    asked = parser.parse_args()
    writers, seconds = min(asked.writers, MOST_WRITERS), min(asked.seconds, MOST_SECONDS)
    with tempfile.TemporaryDirectory(prefix="tyrewright-load-") as folder:
        scratch_open(Path(folder), postgres=False)
        django.setup()
        _open_mine()
        with multiprocessing.get_context("spawn").Pool(writers) as pool:
            told = pool.starmap(write, [(number, seconds) for number in range(writers)])
        _report([count for count, _, _ in told], [fault for _, faults, _ in told for fault in faults],
                max(slowest for _, _, slowest in told), seconds)  # fmt: skip


def _open_mine() -> None:
    from tests.lib.mine import mine_open

    mine_open()


def write(number: int, seconds: float) -> tuple[int, list[str], float]:
    """Register tyres one after another; how many, what went wrong, and the longest that one took [s]."""
    django.setup()
    from planner.models import Site, User
    from planner.services.tyres import tyre_register

    user, site = User.objects.get(username="supervisor-ridge"), Site.objects.get()
    count, faults, slowest, end = 0, [], 0.0, time.monotonic() + seconds
    while time.monotonic() < end:
        began = time.monotonic()
        try:
            tyre_register(user=user, site=site, serial=f"{number}-{count}", size_as_written="20.5R25")
            count += 1
        except Exception as error:
            faults.append(repr(error))
        slowest = max(slowest, time.monotonic() - began)
    return count, faults, slowest


def _report(counts: list[int], faults: list[str], slowest: float, seconds: float) -> None:
    from planner.models import Tyre
    from tests.load.invariants import invariant_faults

    there, broken = Tyre.objects.count(), invariant_faults()
    print(
        f"{len(counts)} writers, {seconds:.0f} s: {sum(counts)} told, {there} there, slowest {slowest:.2f} s"
    )
    print(f"faults: {faults[:5] or 'none'}; invariants: {broken[:5] or 'hold'}")
    raise SystemExit(bool(faults or broken or there != sum(counts)))


if __name__ == "__main__":
    main()

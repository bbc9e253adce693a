"""How good a plan is by when: dispatch alone, the plain whole model and the full solver, side by side.

    python -m tests.bench.solver [family ...] [--seconds 30] [--workers 2] [--seed 1] [--peer PYTHON]

Prints a table and draws the lateness over time of each family into .artefacts/. With the Python of an
environment that has PyJobShop (`tests/bench/peer.py` says how), all of them also plan the part of each bay
that PyJobShop can express: the rows and pictures whose family ends in `-part`.
"""

import argparse
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path
from time import perf_counter

from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from planner.domain.progress import Progress
from planner.scheduling.dispatch import dispatch
from planner.scheduling.score import score
from planner.scheduling.verify import schedule_verify
from planner.solver.full import solve_full
from planner.solver.limits import SolveLimits
from planner.solver.solve import solve
from tests.bench.bay_families import FAMILIES, family_bay
from tests.bench.curves import curves_draw
from tests.bench.part_bay import part_of
from tests.bench.peer import peer_plan

ARTEFACTS = Path(".artefacts")


@dataclass(slots=True)
class Contender:
    """One way to plan, and what it reached when: pairs of seconds and lateness."""

    name: str
    curve: list[tuple[float, int]] = field(default_factory=list)
    bound: int | None = None
    begun: float = field(default_factory=perf_counter)

    def hear(self, moment: Progress) -> None:
        """Note a better plan."""
        if moment.score is not None:
            self.curve.append((perf_counter() - self.begun, moment.score.lateness))

    def end(self, problem: BayProblem, schedule: Schedule | None) -> None:
        """Note the last plan, which has to hold every rule."""
        if schedule is not None:
            breaches = schedule_verify(problem, schedule)
            if breaches:
                raise SystemExit(f"{self.name}: {breaches[0]}")
            self.curve.append((perf_counter() - self.begun, score(problem, schedule.jobs).lateness))


Planner = Callable[[BayProblem, SolveLimits], Contender]


def by_dispatch(problem: BayProblem, limits: SolveLimits) -> Contender:
    """The constructive planner alone."""
    one = Contender("dispatch")
    one.end(problem, dispatch(problem, seed=limits.seed))
    return one


def by_plain_model(problem: BayProblem, limits: SolveLimits) -> Contender:
    """The whole problem as one model, without a start."""
    one = Contender("plain model")
    schedule, one.bound, _ = solve_full(problem, limits=limits, listener=one.hear)
    one.end(problem, schedule)
    return one


def by_solver(problem: BayProblem, limits: SolveLimits) -> Contender:
    """Dispatch, improvement and proof, as a user gets them."""
    one = Contender("solver")
    found = solve(problem, start=dispatch(problem), limits=limits, listener=one.hear)
    one.bound = found.bound
    one.end(problem, found.schedule)
    return one


CONTENDERS: tuple[Planner, ...] = (by_dispatch, by_plain_model, by_solver)


def by_peer(python: Path) -> Planner:
    """PyJobShop, in the environment of that Python."""

    def planned(problem: BayProblem, limits: SolveLimits) -> Contender:
        one = Contender("PyJobShop")
        schedule, one.bound, one.curve = peer_plan(problem, limits, python)
        one.end(problem, schedule)
        return one

    return planned


def main() -> None:
    """Run the families asked for."""
    asked = _asked()
    limits = SolveLimits(seconds=asked.seconds, workers=asked.workers, seed=asked.seed)
    print(f"{'family':<18}{'planner':<14}{'lateness':>12}{'bound':>10}{'seconds':>9}")
    for family in asked.families or list(FAMILIES):
        problem = family_bay(family, asked.seed)
        _compare(family, problem, limits, CONTENDERS)
        if asked.peer is not None:
            _compare(f"{family}-part", part_of(problem), limits, (*CONTENDERS, by_peer(asked.peer)))


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("families", nargs="*", choices=[[], *FAMILIES], default=[])
    parser.add_argument("--seconds", type=float, default=30.0)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--peer", type=Path, metavar="PYTHON", help="plan with PyJobShop as well")
    return parser.parse_args()


def _compare(title: str, problem: BayProblem, limits: SolveLimits, planners: Iterable[Planner]) -> None:
    """One bay, every planner in turn; a row for each and a picture of all."""
    done = [planner(problem, limits) for planner in planners]
    for one in done:
        _print(title, one)
    ARTEFACTS.mkdir(exist_ok=True)
    drawn = curves_draw(title, {one.name: one.curve for one in done})
    (ARTEFACTS / f"solver-{title}.svg").write_text(drawn)


def _print(family: str, one: Contender) -> None:
    seconds, lateness = one.curve[-1] if one.curve else (float("nan"), None)
    found = "none" if lateness is None else str(lateness)
    bound = "" if one.bound is None else str(one.bound)
    print(f"{family:<18}{one.name:<14}{found:>12}{bound:>10}{seconds:>9.1f}", flush=True)


if __name__ == "__main__":
    main()

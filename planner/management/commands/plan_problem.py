"""Plan a bay problem file."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from planner.domain.plan import BayPlan, PlanStatus
from planner.domain.progress import Progress
from planner.management.bay_files import problem_file, target_check, written_whole
from planner.management.command_run import RUN
from planner.management.option_types import seconds, whole, work_units
from planner.scheduling.plan_format import plan_write
from planner.scheduling.problem_format import ProblemFile
from planner.services.bay_plan import bay_plan_make
from planner.solver.limits import SolveLimits

LOCKED_WORK_BREAKS = 1
DEFAULT_SECONDS = 30.0


class Command(BaseCommand):
    """`manage.py plan_problem PROBLEM.json --out PLAN.json`."""

    help = (
        "Plan a bay problem. Exit 0: a plan was written. Exit 1: the locked work breaks a rule by itself, "
        "the plan file says which. Exit 2: bad input, each fault on a line. "
        "SIGINT (Ctrl-C) and SIGTERM write the best plan so far."
    )
    requires_system_checks: list[str] = []  # noqa: RUF012

    def add_arguments(self, parser: CommandParser) -> None:
        """Add the files and the limits."""
        parser.add_argument("problem", type=Path, metavar="PROBLEM.json")
        parser.add_argument("--out", type=Path, required=True, metavar="PLAN.json")
        parser.add_argument(
            "--seconds", type=seconds, help="time for the whole (30; with --work no limit unless given)"
        )
        parser.add_argument("--workers", type=whole(1, 64), default=2, help="solver threads (2)")
        parser.add_argument("--seed", type=whole(0, 2**31 - 1), default=0)
        parser.add_argument("--work", type=work_units, help="solver work units: answers that can be repeated")
        parser.add_argument("--quiet", action="store_true", help="no progress on stderr")

    def handle(self, *args: Any, **options: Any) -> None:
        """Read, plan, write."""
        with RUN:
            self._handle(options)

    def _handle(self, options: dict[str, Any]) -> None:
        target_check(options["out"], options["problem"], self.stderr)
        read = problem_file(options["problem"], self.stderr)
        self._quiet = bool(options["quiet"])
        for warning in read.warnings:
            self._say(f"warning: {warning}")
        plan = self._plan(read, _limits(options))
        written_whole(options["out"], plan_write(plan, read.problem), self.stderr)
        self._conclude(plan)

    def _say(self, line: str) -> None:
        if not self._quiet:
            self.stderr.write(line)

    def _plan(self, read: ProblemFile, limits: SolveLimits) -> BayPlan:
        return bay_plan_make(
            problem=read.problem, sha256=read.sha256, limits=limits, listener=self._tell, stop=RUN.is_to_end
        )

    def _tell(self, progress: Progress) -> None:
        reached = progress.score
        figures = f"lateness {reached.lateness}, flow {reached.flow}" if reached else "no plan yet"
        self._say(f"{progress.seconds:7.1f} s  {progress.phase}: {figures}, bound {progress.bound}")

    def _conclude(self, plan: BayPlan) -> None:
        if plan.status is PlanStatus.INFEASIBLE:
            for reason in plan.unplanned[0].reasons if plan.unplanned else ():
                self.stderr.write(reason.message)
            raise SystemExit(LOCKED_WORK_BREAKS)
        planned, left_out = len(plan.schedule.jobs), len(plan.unplanned)
        self._say(
            f"{plan.status}: {planned} planned, {left_out} left out, lateness {plan.score.lateness}, "
            f"flow {plan.score.flow}, bound {plan.bound}"
        )


def _limits(options: dict[str, Any]) -> SolveLimits:
    """The limits as asked, less the time that the program took to start."""
    asked = options["seconds"]
    if asked is None and options["work"] is None:
        asked = DEFAULT_SECONDS
    return SolveLimits(
        seconds=None if asked is None else max(0.0, asked - RUN.seconds_gone()),
        work=options["work"],
        workers=options["workers"],
        seed=options["seed"],
    )

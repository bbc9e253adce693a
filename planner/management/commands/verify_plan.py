"""Check a bay plan file against its problem file."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from planner.management.bay_files import file_bytes, problem_file, refuse
from planner.scheduling.faults import FaultyFileError
from planner.scheduling.plan_format import plan_read
from planner.scheduling.verify import verify

BREACHES = 1


class Command(BaseCommand):
    """`manage.py verify_plan PROBLEM.json PLAN.json`."""

    help = (
        "Check a bay plan. Exit 0: it holds every rule, and its score is printed. Exit 1: each breach is "
        "printed on a line. Exit 2: a file cannot be read, each fault on a line of stderr."
    )
    requires_system_checks: list[str] = []  # noqa: RUF012

    def add_arguments(self, parser: CommandParser) -> None:
        """Add the two files."""
        parser.add_argument("problem", type=Path, metavar="PROBLEM.json")
        parser.add_argument("plan", type=Path, metavar="PLAN.json")

    def handle(self, *args: Any, **options: Any) -> None:
        """Read both, check, and say what was found."""
        read = problem_file(options["problem"], self.stderr)
        raw = file_bytes(options["plan"], self.stderr)
        try:
            plan = plan_read(raw, read.problem)
        except FaultyFileError as error:
            refuse(self.stderr, *(str(fault) for fault in error.faults))
        breaches = verify(read.problem, plan, sha256=read.sha256)
        for breach in breaches:
            self.stdout.write(str(breach))
        if breaches:
            raise SystemExit(BREACHES)
        self.stdout.write(
            f"the plan holds: lateness {plan.score.lateness}, flow {plan.score.flow}, bound {plan.bound}, "
            f"{len(plan.schedule.jobs)} of {len(read.problem.jobs)} jobs planned"
        )

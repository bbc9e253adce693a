"""Print the JSON Schema of the bay problem or of the bay plan."""

import json
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from planner.scheduling.schema import plan_schema, problem_schema


class Command(BaseCommand):
    """`manage.py bay_problem_schema [--plan]`."""

    help = "Print the JSON Schema of bay problem files (or, with --plan, of bay plan files)."
    requires_system_checks: list[str] = []  # noqa: RUF012

    def add_arguments(self, parser: CommandParser) -> None:
        """Add the choice between the two formats."""
        parser.add_argument("--plan", action="store_true", help="the schema of bay plan files instead")

    def handle(self, *args: Any, **options: Any) -> None:
        """Print it."""
        schema = plan_schema() if options["plan"] else problem_schema()
        self.stdout.write(json.dumps(schema, indent=1, ensure_ascii=False))

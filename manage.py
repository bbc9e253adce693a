#!/usr/bin/env python
"""Run a Tyrewright command: `manage.py demo`, `manage.py plan_problem`, and Django's own."""

import os
import sys

from planner.management.command_run import RUN

LONG_COMMANDS = ("plan_problem",)
"""Commands that end with the best they have when they are asked to stop."""


def main() -> None:
    """Run the command on the command line under the embedded settings unless others are named."""
    if sys.argv[1:2] and sys.argv[1] in LONG_COMMANDS:
        RUN.begin(whole_process=True)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "planner.config.settings.embedded")
    _run_from_command_line()


def _run_from_command_line() -> None:
    # Loaded here, for it takes a second or more in which a signal must be heard already.
    from django.core.exceptions import ImproperlyConfigured
    from django.core.management import execute_from_command_line

    try:
        execute_from_command_line(sys.argv)
    except ImproperlyConfigured as fault:
        sys.stderr.write(f"{fault}\n")
        sys.exit(os.EX_CONFIG)


if __name__ == "__main__":
    main()

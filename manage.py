#!/usr/bin/env python
"""Run a Tyrewright command: `manage.py demo`, `manage.py plan_problem`, and Django's own."""

import os
import sys

from django.core.exceptions import ImproperlyConfigured
from django.core.management import execute_from_command_line


def main() -> None:
    """Run the command on the command line under the embedded settings unless others are named."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "planner.config.settings.embedded")
    try:
        execute_from_command_line(sys.argv)
    except ImproperlyConfigured as fault:
        sys.stderr.write(f"{fault}\n")
        sys.exit(os.EX_CONFIG)


if __name__ == "__main__":
    main()

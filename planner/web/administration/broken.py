"""What to show where a change would break the published plan."""

from dataclasses import dataclass

from planner.services.plan_guard import PlanBreaksError, jobs_of
from planner.web.here import Here
from planner.web.supervisor.breach_words import breach_words
from planner.web.supervisor.naming import JobName, names_get

_SHOWN = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Broken:
    """The tyres that no longer hold, and the first of the broken rules in words."""

    plan_number: int | None
    tyres: tuple[JobName, ...]
    lines: tuple[str, ...]
    more: int


def broken_of(here: Here, error: PlanBreaksError) -> Broken:
    """The error with the bay's names and clock."""
    problem = error.held.content.problem
    names = names_get(here, problem)
    messages = tuple(dict.fromkeys(breach.message for breach in error.breaches))
    return Broken(
        plan_number=error.plan.number,
        tyres=tuple(names.job(job) for job in jobs_of(error.breaches)),
        lines=tuple(breach_words(message, names) for message in messages[:_SHOWN]),
        more=max(0, len(messages) - _SHOWN),
    )

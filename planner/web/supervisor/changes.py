"""What a draft moves against the plan that holds, in elapsed time of the draft's own horizon."""

from dataclasses import dataclass

from planner.domain.plan import Schedule


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One job that is new, gone, or ready at another time than promised [min]."""

    job: str
    ready_before: int | None
    ready_now: int | None
    elsewhere: bool = False

    @property
    def minutes_later(self) -> int | None:
        """How much later it is ready; negative where sooner; None where there is nothing to compare."""
        if self.ready_before is None or self.ready_now is None:
            return None
        return self.ready_now - self.ready_before


def changes(before: Schedule, now: Schedule) -> tuple[Change, ...]:
    """Every job that differs, the one that slips most first."""
    old, new = ({job.id: job for job in schedule.jobs} for schedule in (before, now))
    found = [
        Change(
            job=job,
            ready_before=old[job].end if job in old else None,
            ready_now=new[job].end if job in new else None,
            elsewhere=job in old and job in new and old[job].end == new[job].end,
        )
        for job in sorted(old.keys() | new.keys())
        if old.get(job) != new.get(job)
    ]
    return tuple(sorted(found, key=lambda change: -(change.minutes_later or 0)))

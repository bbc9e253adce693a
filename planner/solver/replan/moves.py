"""What a new plan changes against the one that was published."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.domain.plan import PlannedJob, PlannedStage, Schedule
from planner.domain.sentences import Sentence, _


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """One change: a stage at another time or with other hands and places, or a job put in or taken out.

    `minutes` is how much later it starts (less than 0: earlier); `stage` is None where the whole job
    comes or goes.
    """

    job: str
    stage: str | None
    minutes: int
    changes: tuple[Sentence, ...]


def moves_between(old: Schedule, new: Schedule) -> tuple[Move, ...]:
    """Every change from the old plan to the new one, job by job in the new plan's order."""
    before, after = {job.id: job for job in old.jobs}, {job.id: job for job in new.jobs}
    moves = [move for job in new.jobs for move in _job_moves(before.get(job.id), job)]
    gone = (id_ for id_ in before if id_ not in after)
    return (*moves, *(Move(job=id_, stage=None, minutes=0, changes=(_("taken out"),)) for id_ in gone))


def _job_moves(old: PlannedJob | None, new: PlannedJob) -> Iterator[Move]:
    if old is None:
        yield Move(job=new.id, stage=None, minutes=0, changes=(_("put in"),))
        return
    was = {stage.name: stage for stage in old.stages}
    for stage in new.stages:
        if stage.name in was and stage != was[stage.name]:
            yield _move(new.id, was[stage.name], stage)


def _move(job: str, old: PlannedStage, new: PlannedStage) -> Move:
    changes = [
        _("{what:phrase} {before} to {now}", what=what, before=was or _("none"), now=now or _("none"))
        for what, was, now in (
            (_("technicians"), old.technicians, new.technicians),
            (_("position"), old.position, new.position),
            (_("heater set"), old.heater_set, new.heater_set),
        )
        if was != now
    ]
    if new.end - new.start != old.end - old.start:
        changes.append(_("length {before} min to {now} min", before=old.span.minutes, now=new.span.minutes))
    return Move(job=job, stage=new.name, minutes=new.start - old.start, changes=tuple(changes))

"""What the crew tells from the floor: stages begun and done, readings, photos, problems, the bay closed."""

from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.utils import timezone

from planner.domain.cure_reading import GaugeReading
from planner.domain.errors import ConflictError, InvalidValueError, NotFoundError
from planner.domain.permissions import Action
from planner.domain.plan import PlannedStage
from planner.domain.sentences import _
from planner.domain.states import StageRunState
from planner.domain.taking_back import StageTap
from planner.models import (
    CureReading,
    Damage,
    HeaterSet,
    Position,
    Site,
    StageRun,
    TapTakenBack,
    Technician,
    User,
)
from planner.selectors.access import require_on_site
from planner.selectors.floor_work import damage_of_job_get, hot_tyre_list
from planner.services.alarm_notices import problem_tell
from planner.services.audit import audit_event_add
from planner.services.cure_readings import cure_reading_add
from planner.services.injury_photos import injury_photo_add
from planner.services.stage_runs import stage_run_finish, stage_run_start
from planner.services.taking_back import stage_tap_take_back

CLOSING_STEPS = ("sets_off", "bags_empty", "pads_clear", "supply_isolated", "people_out")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tap:
    """A tap on the floor page: which planned stage of which job, and when it was tapped."""

    job: str
    stage: PlannedStage
    at: datetime


def stage_begin(*, user: User, site: Site, tap: Tap) -> StageRun:
    """Record that the stage begins, as planned. The same tap sent twice is recorded once."""
    require_on_site(user=user, site=site, action=Action.WORK_RECORD)
    damage = damage_of_job_get(user=user, site=site, job=tap.job)
    known = _run(damage, tap.stage.name)
    if known is not None:
        return known
    return stage_run_start(
        user=user,
        damage=damage,
        stage_name=tap.stage.name,
        technicians=list(Technician.objects.filter(site=site, code__in=tap.stage.technicians)),
        position=Position.objects.filter(site=site, code=tap.stage.position or "").first(),
        heater_set=HeaterSet.objects.filter(site=site, code=tap.stage.heater_set or "").first(),
        started_at=_not_ahead(tap.at),
    )


def stage_end(*, user: User, site: Site, tap: Tap) -> StageRun:
    """Record that the stage is over. The same tap sent twice is recorded once."""
    require_on_site(user=user, site=site, action=Action.WORK_RECORD)
    run = _run(damage_of_job_get(user=user, site=site, job=tap.job), tap.stage.name)
    if run is None:
        raise InvalidValueError(
            _("{name} of {job} was not begun yet: tap its start first", name=tap.stage.name, job=tap.job)
        )
    if run.state == StageRunState.DONE:
        return run
    return stage_run_finish(user=user, run=run, ended_at=max(_not_ahead(tap.at), run.started_at))


def stage_take_back(
    *, user: User, site: Site, damage_id: int, stage: str, tap: StageTap, at: datetime, set_is_safe: bool
) -> TapTakenBack:
    """Take back the last tap of an injury: that its stage began, or that it is over."""
    require_on_site(user=user, site=site, action=Action.WORK_RECORD)
    run = StageRun.objects.filter(site=site, damage=damage_id, name=stage).first()
    if run is None:
        raise NotFoundError(
            _("no {tap} of {stage} is on record here: it may be taken back already", tap=tap, stage=stage)
        )
    return stage_tap_take_back(user=user, run=run, tap=tap, at=_not_ahead(at), set_is_safe=set_is_safe)


def stage_problem(*, user: User, site: Site, tap: Tap, words: str) -> None:
    """Tell the supervisor of a problem at a stage; it stands on record with the order."""
    require_on_site(user=user, site=site, action=Action.WORK_RECORD)
    if not words.strip():
        raise InvalidValueError(_("say in a few words what is wrong"))
    damage = damage_of_job_get(user=user, site=site, job=tap.job)
    with transaction.atomic():
        audit_event_add(
            site=site, user=user, action="stage_problem", row=damage.work_order or damage,
            what=f"problem at {tap.stage.name} of {tap.job}", why=words,
        )  # fmt: skip
        problem_tell(site=site, damage=damage, stage=tap.stage.name, words=words, at=tap.at)


def stage_reading(*, user: User, site: Site, job: str, at: datetime, reading: GaugeReading) -> CureReading:
    """Record what the gauges show at a tyre. The same tap sent twice is recorded once."""
    damage = damage_of_job_get(user=user, site=site, job=job)
    return cure_reading_add(user=user, damage=damage, reading=reading, taken_at=at)


def stage_photo(*, user: User, site: Site, tap: Tap, raw: bytes, words: str) -> None:
    """Keep a photo of the injury as it is at a stage. The same tap sent twice is recorded once."""
    damage = damage_of_job_get(user=user, site=site, job=tap.job)
    told = f"{tap.stage.name}: {words.strip()}" if words.strip() else f"at {tap.stage.name}"
    # The same picture is there already where the first answer was lost on its way.
    with suppress(ConflictError):
        injury_photo_add(user=user, damage=damage, raw=raw, words=told[:120])


def bay_close(*, user: User, site: Site, confirmed: set[str]) -> None:
    """Record that the bay is closed; ConflictError while anything is, or may be, hot or under pressure."""
    require_on_site(user=user, site=site, action=Action.WORK_RECORD)
    hot = hot_tyre_list(user=user, site=site)
    if hot:
        names = "; ".join(f"{each.work_order} on {each.heater_set} ({each.stage})" for each in hot)
        raise ConflictError(_("the bay can't be closed: energised or under pressure: {names}", names=names))
    if set(CLOSING_STEPS) - confirmed:
        raise InvalidValueError(_("go through every step and tick it where you have seen it yourself"))
    with transaction.atomic():
        audit_event_add(
            site=site, user=user, action="bay_close", row=site, what="closed the bay, all steps seen"
        )


def _run(damage: Damage, stage: str) -> StageRun | None:
    return damage.stage_runs.filter(name=stage).first()


def _not_ahead(at: datetime) -> datetime:
    """A tablet's clock may run ahead of the server's."""
    return min(at, timezone.now())

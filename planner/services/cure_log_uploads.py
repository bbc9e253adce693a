"""A logger's file between upload and import: looked at, mapped, judged, then kept or put away."""

import hashlib
from collections.abc import Mapping
from dataclasses import asdict
from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from planner.domain.errors import ConflictError, InvalidValueError, NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.engineering.cure_log.columns import ColumnMap, TimeKind
from planner.engineering.cure_log.units import PressureUnit, TemperatureUnit
from planner.models import CureLogUpload, Damage, HeaterSet, LoggedCure, Site, User
from planner.selectors.access import require_on_site
from planner.selectors.cure_plans import PlannedCure, cure_plan_get
from planner.selectors.cures import column_map_of, logger_columns_get
from planner.services.cure_log_file import cure_log_rows
from planner.services.cure_log_guess import columns_guessed
from planner.services.cure_traces import CureTrace, cure_log_look
from planner.services.logged_cures import cure_log_import, judgement_words

KEPT_FOR = timedelta(days=1)
TIME_KINDS = tuple(kind.value for kind in TimeKind)


def cure_log_upload_add(
    *,
    user: User,
    damage: Damage,
    raw: bytes,
    name: str,
    logger: str = "",
    heater_set: HeaterSet | None = None,
    columns: ColumnMap | None = None,
    by_hand: bool = False,
) -> CureLogUpload:
    """Put a file aside to look at; the columns are those remembered of the logger, else guessed by name.

    Without a heater set it is the one that the record of the floor names.

    Raises InvalidValueError where it cannot be read, ConflictError where it was imported before.
    """
    require_on_site(user=user, site=damage.site, action=Action.WORK_RECORD)
    rows = cure_log_rows(raw=raw, name=name)
    if not rows:
        raise InvalidValueError(_("{name} names its columns but has no readings", name=name))
    if LoggedCure.objects.filter(damage=damage, file_sha256=hashlib.sha256(raw).hexdigest()).exists():
        raise ConflictError(_("{name} was imported for this injury before: nothing was changed", name=name))
    known = columns or logger_columns_get(user=user, site=damage.site, logger=logger)
    CureLogUpload.objects.filter(site=damage.site, uploaded_at__lt=timezone.now() - KEPT_FOR).delete()
    return CureLogUpload.objects.create(
        site=damage.site,
        damage=damage,
        heater_set=heater_set or set_on_record(damage),
        logger=logger.strip(),
        file_name=name[:200],
        file_raw=raw,
        columns=asdict(known) if known else columns_guessed(rows, site=damage.site),
        by_hand=by_hand,
        uploaded_at=timezone.now(),
        uploaded_by=user,
    )


def set_on_record(damage: Damage) -> HeaterSet | None:
    """The heater set that was last on the injury by the record of the floor."""
    run = damage.stage_runs.filter(heater_set__isnull=False).select_related("heater_set").last()
    return None if run is None else run.heater_set


def cure_log_upload_get(*, user: User, site: Site, upload_id: int) -> CureLogUpload:
    """A file that was put aside; NotFoundError where it is gone."""
    require_on_site(user=user, site=site, action=Action.WORK_RECORD)
    uploads = CureLogUpload.objects.select_related("damage__work_order", "damage__tyre", "damage__site")
    found = uploads.filter(site=site, pk=upload_id).first()
    if found is None:
        raise NotFoundError(_("this file was kept or put away already: upload it again if it is missing"))
    return found


def upload_column_names(*, upload: CureLogUpload) -> list[str]:
    """The names of the file's columns."""
    return list(cure_log_rows(raw=bytes(upload.file_raw), name=upload.file_name)[0])


def upload_columns_set(*, upload: CureLogUpload, columns: ColumnMap) -> None:
    """Read the file by these columns from now on."""
    upload.columns = asdict(columns)
    upload.save(update_fields=["columns"])


def upload_look(*, upload: CureLogUpload) -> tuple[dict[str, object], CureTrace]:
    """The judgement in words and the curves, by the upload's columns; nothing is kept.

    Raises InvalidValueError where the columns do not fit the file.
    """
    judgement, trace = cure_log_look(
        raw=bytes(upload.file_raw),
        name=upload.file_name,
        columns=column_map_of(upload.columns or {}),
        plan=_planned(upload).plan,
    )
    return judgement_words(judgement), trace


def _planned(upload: CureLogUpload) -> PlannedCure:
    return cure_plan_get(damage=upload.damage, heater_set=upload.heater_set, by_hand=upload.by_hand)


def upload_keep(*, user: User, upload: CureLogUpload) -> LoggedCure:
    """Import the very bytes that were looked at, with their verdict, and put the upload away."""
    with transaction.atomic():
        logged = cure_log_import(
            user=user,
            damage=upload.damage,
            raw=bytes(upload.file_raw),
            name=upload.file_name,
            columns=column_map_of(upload.columns or {}),
            planned=_planned(upload),
            heater_set=upload.heater_set,
            logger=upload.logger,
            by_hand=upload.by_hand,
        )
        upload.delete()
    return logged


def upload_put_away(*, user: User, upload: CureLogUpload) -> None:
    """Forget a file that was not imported."""
    require_on_site(user=user, site=upload.site, action=Action.WORK_RECORD)
    upload.delete()


def columns_of(told: Mapping[str, str]) -> ColumnMap:
    """A map of columns from a form's words; InvalidValueError where two are the same or a word is unknown."""
    try:
        return ColumnMap(
            time=told["time"],
            inside=told["inside"],
            outside=told["outside"],
            pressure=tuple(told[name] for name in ("pressure", "pressure_2") if told.get(name)),
            date=told.get("date") or None,
            time_kind=TimeKind(told["time_kind"]),
            time_zone=told.get("time_zone") or None,
            temperature_unit=TemperatureUnit(told["temperature_unit"]),
            pressure_unit=PressureUnit(told["pressure_unit"]),
        )
    except (KeyError, ValueError) as fault:
        if isinstance(fault, InvalidValueError):
            raise
        raise InvalidValueError(_("say of every column what it is")) from fault

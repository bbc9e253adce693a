"""The cures of an order as a record keeps them: readings, logs, verdicts, limits, decisions."""

from datetime import UTC, datetime
from typing import Any

from planner.models import CureDecision, CureReading, LoggedCure, User, WorkOrder
from planner.selectors.cure_readings import reading_histories


def cure_log_list(*, order: WorkOrder) -> list[dict[str, Any]]:
    """The logs of the order's injuries, first to last, without the files' bytes."""
    logs = LoggedCure.objects.filter(damage__work_order=order).defer("file_raw", "trace")
    logs = logs.select_related("imported_by", "heater_set").prefetch_related("decisions__signed_by")
    return [_log(each) for each in logs]


def reading_words(*, order: WorkOrder) -> list[dict[str, Any]]:
    """The readings by hand of the order's injuries, in order of time; one that was corrected says so."""
    return [
        _reading(row, holds=row is each.holds)
        for histories in reading_histories(order=order).values()
        for each in histories
        for row in (*each.slips, *([each.holds] if each.holds else []))
    ]


def _reading(row: CureReading, *, holds: bool) -> dict[str, Any]:
    return {
        "injury": row.damage_id,
        "taken_at": _instant(row.taken_at),
        "as_typed": row.as_typed,
        "holds": holds,
        "note": row.note,
        "stage": None if row.stage_run is None else row.stage_run.name,
        "recorded_at": _instant(row.recorded_at),
        "recorded_by": _person(row.recorded_by),
    }


def _log(logged: LoggedCure) -> dict[str, Any]:
    return {
        "id": logged.pk,
        "injury": logged.damage_id,
        "file_name": logged.file_name,
        "file_sha256": logged.file_sha256,
        "heater_set": None if logged.heater_set is None else logged.heater_set.name,
        "verdict": logged.verdict,
        "judgement": logged.judgement,
        "plan": logged.plan,
        "limits": logged.limits,
        "by_hand": logged.by_hand,
        "imported_at": _instant(logged.imported_at),
        "imported_by": _person(logged.imported_by),
        "decisions": [_decision(each) for each in logged.decisions.all()],
    }


def _decision(decision: CureDecision) -> dict[str, Any]:
    return {
        "number": decision.number,
        "accepted": decision.accepted,
        "reason": decision.reason,
        "signed_at": _instant(decision.signed_at),
        "signed_by": _person(decision.signed_by),
    }


def _instant(at: datetime) -> str:
    return at.astimezone(UTC).isoformat(timespec="seconds")


def _person(user: User) -> str:
    return user.get_full_name() or user.get_username()

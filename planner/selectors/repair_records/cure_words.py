"""The cure logs of an order as a record keeps them: verdict, checks, findings, decisions."""

from datetime import UTC
from typing import Any

from planner.models import CureDecision, LoggedCure, WorkOrder


def cure_log_list(*, order: WorkOrder) -> list[dict[str, Any]]:
    """The logs of the order's injuries, first to last, without the files' bytes."""
    logs = LoggedCure.objects.filter(damage__work_order=order).defer("file_raw")
    logs = logs.select_related("imported_by", "heater_set").prefetch_related("decisions__signed_by")
    return [_log(each) for each in logs]


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
        "imported_at": logged.imported_at.astimezone(UTC).isoformat(timespec="seconds"),
        "imported_by": logged.imported_by.get_full_name() or logged.imported_by.get_username(),
        "decisions": [_decision(each) for each in logged.decisions.all()],
    }


def _decision(decision: CureDecision) -> dict[str, Any]:
    return {
        "number": decision.number,
        "accepted": decision.accepted,
        "reason": decision.reason,
        "signed_at": decision.signed_at.astimezone(UTC).isoformat(timespec="seconds"),
        "signed_by": decision.signed_by.get_full_name() or decision.signed_by.get_username(),
    }

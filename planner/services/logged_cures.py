"""Importing a cure's log and signing what a person decides on it. The tool never releases a cure."""

import hashlib
from dataclasses import asdict

from django.db import transaction
from django.utils import timezone

from planner.domain.errors import ConflictError, InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import _, kept
from planner.engineering.cure_log.checks import Check
from planner.engineering.cure_log.columns import ColumnMap
from planner.engineering.cure_log.finding import Finding
from planner.engineering.cure_log.judge import CureJudgement
from planner.models import CureDecision, Damage, HeaterSet, LoggedCure, LoggerColumns, User
from planner.selectors.access import require_on_site
from planner.selectors.cure_limits import limit_words
from planner.selectors.cure_plans import PlannedCure
from planner.services.cure_traces import cure_log_look, plan_words, trace_words
from planner.services.rows import row_add, row_change


def cure_log_import(
    *,
    user: User,
    damage: Damage,
    raw: bytes,
    name: str,
    columns: ColumnMap,
    planned: PlannedCure,
    heater_set: HeaterSet | None = None,
    logger: str = "",
    by_hand: bool = False,
) -> LoggedCure:
    """Keep a logger's file with its verdict; the columns are remembered where the logger is named.

    Raises InvalidValueError where the file cannot be read, ConflictError where it was imported before.
    """
    require_on_site(user=user, site=damage.site, action=Action.WORK_RECORD)
    judgement, trace = cure_log_look(raw=raw, name=name, columns=columns, plan=planned.plan)
    digest = hashlib.sha256(raw).hexdigest()
    if LoggedCure.objects.filter(damage=damage, file_sha256=digest).exists():
        raise ConflictError(_("{name} was imported for this injury before", name=name))
    logged = LoggedCure(
        site=damage.site,
        damage=damage,
        heater_set=heater_set,
        file_name=name[:200],
        file_sha256=digest,
        file_raw=raw,
        columns=asdict(columns),
        plan=plan_words(planned.plan),
        limits=[asdict(each) for each in limit_words(planned.limits)],
        verdict=judgement.verdict,
        judgement=judgement_words(judgement),
        trace=trace_words(trace),
        by_hand=by_hand,
        imported_at=timezone.now(),
        imported_by=user,
    )
    with transaction.atomic():
        row_add(user=user, site=damage.site, row=logged, action="cure_log_import")
        if logger:
            _remember(user, damage, logger, columns)
    return logged


def cure_decision_sign(*, user: User, logged_cure: LoggedCure, accepted: bool, reason: str) -> CureDecision:
    """Sign a person's decision on a cure. A later one stands beside it; nothing signed changes.

    Raises InvalidValueError where no reason is given.
    """
    require_on_site(user=user, site=logged_cure.site, action=Action.WORK_ORDER_DECIDE)
    if not reason.strip():
        raise InvalidValueError(_("a decision on a cure needs its reason"))
    with transaction.atomic():
        LoggedCure.objects.select_for_update().get(pk=logged_cure.pk)
        decision = CureDecision(
            site=logged_cure.site,
            logged_cure=logged_cure,
            number=logged_cure.decisions.count() + 1,
            accepted=accepted,
            reason=reason.strip(),
            signed_at=timezone.now(),
            signed_by=user,
        )
        row_add(user=user, site=logged_cure.site, row=decision, action="cure_decision_sign", why=reason)
    return decision


def judgement_words(judgement: CureJudgement) -> dict[str, object]:
    """A judgement as it is kept: verdict, reasons, checks, findings, equivalent minutes."""
    return {
        "verdict": judgement.verdict.value,
        "why": [str(each) for each in judgement.why],
        "why_told": [kept(each) for each in judgement.why],
        "checks": [_told(check) for check in judgement.checks],
        "findings": [_told(finding) for finding in judgement.findings],
        "worth": None if judgement.worth is None else asdict(judgement.worth),
    }


def _told(each: Check | Finding) -> dict[str, object]:
    """Its message in English, and what tells it in other languages and units."""
    return {**asdict(each), "message": str(each.message), "told": kept(each.message)}


def _remember(user: User, damage: Damage, logger: str, columns: ColumnMap) -> None:
    kept = LoggerColumns.objects.filter(site=damage.site, logger=logger).first()
    if kept is None:
        fresh = LoggerColumns(site=damage.site, logger=logger, columns=asdict(columns))
        row_add(user=user, site=damage.site, row=fresh, action="logger_columns_add")
        return
    values = {"columns": asdict(columns)}
    row_change(user=user, site=damage.site, row=kept, values=values, action="logger_columns_change")

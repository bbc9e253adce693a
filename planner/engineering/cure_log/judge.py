"""A finished cure judged against its plan. A person decides; nothing here releases a cure."""

from dataclasses import dataclass

import numpy as np

from planner.domain.cure_verdict import CureVerdict
from planner.domain.sentences import Sentence, _
from planner.engineering.cure_log.checks import NAMES, RULES, Check, release
from planner.engineering.cure_log.finding import Finding, FindingKind
from planner.engineering.cure_log.log import CureLog
from planner.engineering.cure_log.oddities import oddities, wrong_pad_units
from planner.engineering.cure_log.plan import CurePlan
from planner.engineering.cure_log.span import CureSpan, cure_span
from planner.engineering.cure_log.worth import LoggedWorth, logged_worth
from planner.engineering.heat.tridiagonal import FloatArray

MOST_MISSING = 0.2
"""With more of the readings or of the timed minutes missing, a log is not judged [-]."""

TOLD_ONLY = frozenset({FindingKind.CLOCK_CHANGE, FindingKind.NEWEST_FIRST})
"""Findings that are shown but ask for no decision: the time is known all the same."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CureJudgement:
    """The verdict on one log with everything behind it.

    Args:
        verdict: within plan, needs a person's decision, not enough data.
        why: reasons for the verdict in plain words; empty within plan.
        checks: what the plan asks and what the log answers.
        findings: what is odd about the log.
        span: the cure's moments.
        worth: equivalent minutes at the slowest point, where the repair and the pads' unit are known.

    """

    verdict: CureVerdict
    why: tuple[Sentence, ...]
    checks: tuple[Check, ...]
    findings: tuple[Finding, ...]
    span: CureSpan
    worth: LoggedWorth | None


def cure_judge(log: CureLog, plan: CurePlan) -> CureJudgement:
    """Judge a log as it stands.

    Args:
        log: as read.
        plan: what should have been.

    Returns:
        not enough data where a pad or the clock cannot be followed; a decision where any check fails or
        cannot be answered, or anything is odd; else within plan.

    """
    span = cure_span(log, plan)
    findings = oddities(log, plan)
    lacking = _lacking(log, plan, span)
    if any(not np.isfinite(pad).any() for pad in (log.inside_c, log.outside_c)):
        return _judgement(CureVerdict.NOT_ENOUGH_DATA, lacking, (), findings, span, None)
    worth = _worth(log, plan, span)
    checks = (*(rule(log, plan, span) for rule in RULES), release(plan, span, worth))
    why = (*lacking, *_reasons(checks, findings, worth))
    verdict = CureVerdict.NOT_ENOUGH_DATA if lacking else CureVerdict.NEEDS_DECISION
    return _judgement(verdict if why else CureVerdict.WITHIN_PLAN, why, checks, findings, span, worth)


def _worth(log: CureLog, plan: CurePlan, span: CureSpan) -> LoggedWorth | None:
    """What the pads were worth; nothing where the repair is not known or the pads' unit is in doubt."""
    if plan.case is None or any(wrong_pad_units(log, plan)):
        return None
    return logged_worth(log, plan, span, plan.case)


def _judgement(
    verdict: CureVerdict,
    why: tuple[Sentence, ...],
    checks: tuple[Check, ...],
    findings: tuple[Finding, ...],
    span: CureSpan,
    worth: LoggedWorth | None,
) -> CureJudgement:
    return CureJudgement(verdict=verdict, why=why, checks=checks, findings=findings, span=span, worth=worth)


def _lacking(log: CureLog, plan: CurePlan, span: CureSpan) -> tuple[Sentence, ...]:
    """Why the log cannot be judged at all."""
    reasons: list[Sentence] = []
    for name, pad in ((_("inside"), log.inside_c), (_("outside"), log.outside_c)):
        missing = 1 - np.isfinite(pad).mean()
        if missing == 1:
            reasons.append(_("the {name:phrase} pad has no readings", name=name))
        elif missing > MOST_MISSING:
            reasons.append(
                _("{missing:.0%} of the {name:phrase} pad's readings are missing", missing=missing, name=name)
            )
    timed = log.time_min[span.timed]
    unseen = sum(_overlap(timed, log.time_min, ends) for ends in log.silences(plan.gap_min))
    if unseen > MOST_MISSING * max(float(np.ptp(timed)) if len(timed) else 0.0, 1.0):
        reasons.append(_("{unseen:.0f} min of the timed part are not in the log", unseen=unseen))
    return tuple(reasons)


def _overlap(timed_min: FloatArray, time_min: FloatArray, ends: tuple[int, int]) -> float:
    """How much of the timed part a silence between two readings takes [min]."""
    if not len(timed_min):
        return 0.0
    first, last = max(timed_min[0], time_min[ends[0]]), min(timed_min[-1], time_min[ends[1]])
    return max(0.0, float(last - first))


def _reasons(
    checks: tuple[Check, ...], findings: tuple[Finding, ...], worth: LoggedWorth | None
) -> tuple[Sentence, ...]:
    failed = [
        _("{check:phrase}: {message}", check=NAMES[check.name], message=check.message)
        for check in checks
        if not check.passed
    ]
    odd = [finding.message for finding in findings if finding.kind not in TOLD_ONLY]
    short = []
    if worth is not None and not worth.surely_enough:
        short.append(
            _(
                "the slowest point may have {least_min:.0f} (likely {likely_min:.0f}) of the "
                "{target_min:.0f} equivalent minutes it must have",
                least_min=worth.least_min,
                likely_min=worth.likely_min,
                target_min=worth.target_min,
            )
        )
    return (*failed, *odd, *short)

"""What would help: every lever of the bay, tried beside the page."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_POST

from planner.domain.durations import hours_minutes
from planner.domain.permissions import Action
from planner.selectors.lever_answers import lever_question_get, lever_trial_list, lever_words_get
from planner.selectors.nouns import LeverQuestion, LeverTrialRow, Plan
from planner.selectors.plans import PlanContent, plan_content_get, plan_get
from planner.services.lever_questions import levers_ask, levers_cancel
from planner.web.here import Here, show, site_page
from planner.web.supervisor.breach_words import breach_words
from planner.web.supervisor.naming import names_get


@dataclass(frozen=True, slots=True, kw_only=True)
class LeverRow:
    """One lever in the names of the bay; `gain` is less lateness for each tyre on average.

    `at_most` is the gain that no search of whatever length could beat; empty where it is reached already.
    """

    words: str
    trial: LeverTrialRow
    gain: str
    at_most: str


@site_page(Action.SITE_READ)
def help_shown(request: HttpRequest, here: Here, plan_id: int) -> HttpResponse:
    """How far the trials are."""
    return _part(request, here, plan_get(user=here.user, site=here.site, plan_id=plan_id))


@require_POST
@site_page(Action.PLAN_BUILD)
def help_ask(request: HttpRequest, here: Here, plan_id: int) -> HttpResponse:
    """Try them all."""
    row = plan_get(user=here.user, site=here.site, plan_id=plan_id)
    levers_ask(user=here.user, plan=row)
    return _part(request, here, row)


@require_POST
@site_page(Action.PLAN_BUILD)
def help_cancel(request: HttpRequest, here: Here, plan_id: int) -> HttpResponse:
    """Try no more; what was found stays."""
    row = plan_get(user=here.user, site=here.site, plan_id=plan_id)
    question = lever_question_get(user=here.user, plan=row)
    if question is not None:
        levers_cancel(user=here.user, question=question)
    return _part(request, here, row)


def _part(request: HttpRequest, here: Here, row: Plan) -> HttpResponse:
    question = lever_question_get(user=here.user, plan=row)
    trials = lever_trial_list(question=question) if question else []
    done = [trial for trial in trials if trial.state == "done"]
    return show(
        request, here, "supervisor/help.html", row=row, question=question,
        lever_rows=lever_rows(here, row, trials) if trials else [],
        is_open=question is not None and question.state in ("queued", "running"),
        tried=len(done),
        untried=sum(trial.state == "failed" for trial in trials),
        as_it_is=_in_time_as_it_is(done),
        whole=_whole(question, trials) if question else "",
    )  # fmt: skip


def lever_rows(here: Here, row: Plan, trials: list[LeverTrialRow]) -> list[LeverRow]:
    """The trials of a plan in the names of its bay."""
    content = plan_content_get(plan=row)
    names, words = names_get(here, content.problem), lever_words_get(plan=row)
    return [
        LeverRow(
            words=breach_words(words.get(trial.lever, trial.words), names),
            trial=trial,
            gain=_for_each_tyre(content, trial.lateness_gain),
            at_most=_at_most(content, trial),
        )
        for trial in trials
    ]


def _whole(question: LeverQuestion, trials: list[LeverTrialRow]) -> str:
    """About how long until every lever was tried, after the bay as it is; starting up takes as long again."""
    return hours_minutes(max(1, round(2 * question.seconds * (len(trials) + 1) / 60)))


def _in_time_as_it_is(done: list[LeverTrialRow]) -> int | None:
    """Tyres in time of the bay as it is, searched as long; None until a trial was set beside it."""
    first = next((trial for trial in done if trial.tyres_in_time is not None), None)
    return None if first is None else (first.tyres_in_time or 0) - (first.tyres_gain or 0)


def _at_most(content: PlanContent, trial: LeverTrialRow) -> str:
    return "" if not trial.gap else _for_each_tyre(content, (trial.lateness_gain or 0) + trial.gap)


def _for_each_tyre(content: PlanContent, lateness: int | None) -> str:
    """Weighted minutes as a time for each tyre; the sum over tyres and weights says nothing to anybody."""
    weight = sum(job.priority for job in content.problem.jobs)
    return "" if lateness is None or not weight else hours_minutes(max(0, round(lateness / weight)))

"""Reading what would help a plan."""

from planner.domain.permissions import Action
from planner.domain.sentences import Sentence
from planner.models import LeverQuestion, LeverTrialRow, Plan, User
from planner.selectors.access import require_on_site
from planner.selectors.plans import plan_content_get
from planner.solver.levers import levers_for


def lever_question_get(*, user: User, plan: Plan) -> LeverQuestion | None:
    """The newest question about a plan; None where nobody asked."""
    require_on_site(user=user, site=plan.site, action=Action.SITE_READ)
    return LeverQuestion.objects.filter(plan=plan).select_related("asked_by", "site").first()


def lever_words_get(*, plan: Plan) -> dict[str, Sentence]:
    """What each lever of the plan's bay does, by the lever's id."""
    return {lever.id: lever.words for lever in levers_for(plan_content_get(plan=plan).problem)}


def lever_trial_list(*, question: LeverQuestion) -> list[LeverTrialRow]:
    """Its trials: what buys most first, what is within noise after it, what is still open last."""
    rows = list(question.trials.all())
    return sorted(
        rows, key=lambda row: (row.lateness_gain is None, row.within_noise, -(row.lateness_gain or 0))
    )

"""All that the plan page shows of one stored plan."""

from dataclasses import dataclass, field
from datetime import UTC, datetime

from django.http import QueryDict
from django.utils import timezone

from planner.domain.bay_time import Span
from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from planner.domain.states import PlanState
from planner.selectors.nouns import Plan
from planner.selectors.plan_moves import promised_still
from planner.selectors.plans import PlanContent, plan_content_get, plan_published_get
from planner.web.here import Here
from planner.web.plan_summary import PlanSummary, plan_summary
from planner.web.supervisor.changes import Change, changes
from planner.web.supervisor.naming import Names, names_get
from planner.web.timeline.bars import Wording
from planner.web.timeline.board import Board, View, board
from planner.web.timeline.items import LaneKind
from planner.web.timeline.scale import Zoom


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """How the reader wants to see it: which lanes, how close, and whether beside the published plan."""

    lanes: LaneKind = LaneKind.HEATER_SETS
    zoom: Zoom = Zoom.DAY
    compare: bool = False

    @property
    def query(self) -> str:
        """The wish as it stands in an address."""
        return f"lanes={self.lanes}&zoom={self.zoom}&compare={'yes' if self.compare else ''}"


def wish_of(query: QueryDict) -> Wish:
    """The wish in a page's address; nonsense there means the usual view."""
    lanes, zoom = query.get("lanes"), query.get("zoom")
    return Wish(
        lanes=LaneKind(lanes) if lanes in list(LaneKind) else LaneKind.HEATER_SETS,
        zoom=Zoom(zoom) if zoom in list(Zoom) else Zoom.DAY,
        compare=query.get("compare") == "yes",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanView:
    """A stored plan, read and laid out."""

    row: Plan
    content: PlanContent
    names: Names
    summary: PlanSummary
    board: Board
    published: Plan | None
    changes: tuple[Change, ...] = ()
    wish: Wish = field(default_factory=Wish)

    @property
    def is_draft(self) -> bool:
        """Whether it may still be changed."""
        return bool(self.row.state == PlanState.DRAFT)


def plan_view(here: Here, row: Plan, wish: Wish) -> PlanView:
    """Read a stored plan and lay it out as wished."""
    content = plan_content_get(plan=row)
    problem, schedule = content.problem, content.plan.schedule
    names = names_get(here, problem)
    summary = plan_summary(problem, schedule, content.plan.unplanned)
    published = plan_published_get(user=here.user, site=here.site)
    before = _before(problem, row, published)
    moved = changes(before, schedule) if before else ()
    shown = moved if wish.compare else ()
    wording = Wording(
        origin=problem.origin,
        zone=here.zone,
        job_names=names.job_labels,
        names=names.resources,
        late=frozenset(job.job for job in summary.late),
        locked=frozenset(job.id for job in problem.locked),
        moved=frozenset(change.job for change in shown),
        share_lane_with_watch=wish.lanes is LaneKind.TECHNICIANS,
    )
    view = View(
        kind=wish.lanes, zoom=wish.zoom, now=minute_of(problem, timezone.now()), window=_window(problem),
        lane_names=names.resources, ghost_of=before if wish.compare else None,
    )  # fmt: skip
    return PlanView(
        row=row, content=content, names=names, summary=summary, published=published, changes=moved, wish=wish,
        board=board(problem, schedule, view, wording),
    )  # fmt: skip


def minute_of(problem: BayProblem, at: datetime) -> int:
    """A moment in minutes after the horizon's start."""
    return int((at.astimezone(UTC) - problem.origin.astimezone(UTC)).total_seconds()) // 60


def _window(problem: BayProblem) -> Span:
    """The horizon, and work in hand that began before it."""
    starts = [stage.start for job in problem.locked for stage in job.stages]
    return Span(min([0, *starts]), problem.horizon_end)


def _before(problem: BayProblem, row: Plan, published: Plan | None) -> Schedule | None:
    if published is None or published.pk == row.pk:
        return None
    return promised_still(problem, plan_content_get(plan=published))

"""The score in people's words."""

from planner.domain.plan import Reason, UnplannedJob
from planner.domain.sentences import Sentence
from planner.web.plan_summary import plan_summary
from tests.lib import one_cure as bay

LEFT_OUT = (UnplannedJob(job="WO-0002", reasons=(Reason(code="no_set", message=Sentence("no set fits")),)),)


def test_a_tyre_that_ends_before_it_is_needed_is_in_time() -> None:
    summary = plan_summary(bay.problem(), bay.schedule(), ())
    assert (summary.in_time, summary.late, summary.total) == (1, (), 1)


def test_a_late_tyre_says_by_how_much() -> None:
    # It ends at 390 + 300 = 690 min and is needed by 600.
    summary = plan_summary(bay.problem(), bay.schedule(shift=300), LEFT_OUT)
    assert [(job.job, job.minutes_late) for job in summary.late] == [("WO-0001", 90)]
    assert (summary.in_time, summary.planned, summary.total) == (0, 1, 2)


def test_a_tyre_that_ends_when_it_is_needed_is_in_time() -> None:
    assert plan_summary(bay.problem(), bay.schedule(shift=210), ()).late == ()

"""Going on with what a worker that died, or a queue that was lost, left behind; each minute by the clock."""

from planner.services.file_tasks.ending import file_tasks_resume
from planner.services.lever_endings import levers_resume
from planner.services.notice_mail import notice_mails_resume
from planner.services.plan_replays import plan_replays_resume
from planner.services.promise_notices import promise_notices_resume


def lost_work_resume() -> int:
    """Queue again or end whatever was left; how many. What is queued twice is done once."""
    resumed = levers_resume() + plan_replays_resume() + file_tasks_resume()
    return resumed + promise_notices_resume() + notice_mails_resume()

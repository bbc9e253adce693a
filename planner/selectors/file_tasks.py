"""Reading imports and exports that workers do."""

from django.db.models import QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.file_tasks import FileTaskKind
from planner.domain.sentences import _
from planner.models import FileTask, Site, User
from planner.selectors.access import actions_get


def file_task_list(*, user: User, site: Site) -> QuerySet[FileTask]:
    """The site's tasks whose kind the user may ask for, the newest first, without their files."""
    may = actions_get(user=user, site=site)
    kinds = [kind for kind in FileTaskKind if kind.action in may]
    rows = FileTask.objects.filter(site=site, kind__in=kinds).select_related("asked_by", "site")
    return rows.defer("file_raw", "result_raw")


def file_task_get(*, user: User, site: Site, task_id: int) -> FileTask:
    """One of them; NotFoundError where there is none, or it is of a kind that is none of the user's."""
    row = file_task_list(user=user, site=site).filter(pk=task_id).first()
    if row is None:
        raise NotFoundError(_("there is no import or export {task_id} here", task_id=task_id))
    return row

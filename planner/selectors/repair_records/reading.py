"""Reading a record: the signed version that is asked for, or the draft of what is on file now."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import Sentence, _
from planner.models import Damage, InjuryPhoto, RecordVersion, Site, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.repair_records.content import content_sha256, record_content

PLANNED = ("chart", "figures", "spread")


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairRecord:
    """A record to read.

    Args:
        order: whose.
        content: as it was signed, or as it stands now.
        version: the signed one; None for the draft.
        versions: all that were signed, first to last.
        outdated: something on file changed since the last signature.

    """

    order: WorkOrder
    content: dict[str, Any]
    version: RecordVersion | None
    versions: Sequence[RecordVersion]
    outdated: bool

    @property
    def lacks(self) -> tuple[str, ...]:
        """What must be done before it can be signed, in plain words."""
        return record_lacks(self.content)

    @property
    def is_last(self) -> bool:
        """Whether this is the version that holds."""
        return self.version is None or self.version == self.versions[-1]


def repair_record_get(*, user: User, order: WorkOrder, number: int | None = None) -> RepairRecord:
    """The record of an order: version `number`, else the last one signed, else the draft (0: the draft).

    Raises NotFoundError where there is no such version.
    """
    require_on_site(user=user, site=order.site, action=Action.SITE_READ)
    versions = list(order.record_versions.select_related("signed_by").order_by("number"))
    content = record_content(order=order)
    last = versions[-1] if versions else None
    version = _asked(versions, number, order)
    return RepairRecord(
        order=order,
        content=content if version is None else version.content,
        version=version,
        versions=versions,
        outdated=last is not None and on_file(last.content) != on_file(content),
    )


def on_file(content: dict[str, Any]) -> str:
    """The digest of what people and loggers put on file, without the planned figures.

    Those follow charts and limits, which may change long after a repair; its log keeps what it was judged by.
    """
    injuries = [
        {name: told for name, told in injury.items() if name not in PLANNED} for injury in content["injuries"]
    ]
    return content_sha256({**content, "injuries": injuries})


def record_lacks(content: dict[str, Any]) -> tuple[str, ...]:
    """What a record still needs before a person signs it."""
    lacks = [_("the cure log {log} waits for a person's decision", log=log['file_name'])
             for log in content["logs"] if not log["decisions"]]  # fmt: skip
    if not content["inspections"]:
        lacks.append(_("nobody has inspected the repair yet"))
    elif content["inspections"][-1]["released"]:
        lacks += _cures_without_log(content)
        lacks += [
            _(
                "the repair is released although the cure {log} was rejected: inspect it again",
                log=log["file_name"],
            )
            for log in content["logs"]
            if log["decisions"] and not log["decisions"][-1]["accepted"]
        ]
    if any(stage["ended_at"] is None for stage in content["stages"]):
        lacks.append(_("a stage is still going on"))
    return tuple(lacks)


def _cures_without_log(content: dict[str, Any]) -> list[Sentence]:
    """Nothing is released whose cure nobody can look at."""
    cured = {stage["injury"] for stage in content["stages"] if stage["heater_set"]}
    logged = {log["injury"] for log in content["logs"]}
    return [
        _("the cure of {injury} has no log: import it, or judge its readings by hand", injury=injury["words"])
        for injury in content["injuries"]
        if injury["id"] in cured - logged
    ]


def photo_list(*, user: User, damage: Damage) -> QuerySet[InjuryPhoto]:
    """The photos of an injury, first to last, without their pictures."""
    require_on_site(user=user, site=damage.site, action=Action.SITE_READ)
    return InjuryPhoto.objects.filter(damage=damage).defer("jpeg").select_related("added_by")


def photo_get(*, user: User, site: Site, photo_id: int) -> InjuryPhoto:
    """One photo of the site; NotFoundError where it is none of this site's."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    photo = InjuryPhoto.objects.filter(site=site, pk=photo_id).select_related("added_by").first()
    if photo is None:
        raise NotFoundError(_("there is no photo {photo_id} on {site}", photo_id=photo_id, site=site))
    return photo


def _asked(versions: list[RecordVersion], number: int | None, order: WorkOrder) -> RecordVersion | None:
    if number == 0 or not versions:
        return None
    if number is None:
        return versions[-1]
    for version in versions:
        if version.number == number:
            return version
    raise NotFoundError(_("the record of {order} has no version {number}", order=order, number=number))

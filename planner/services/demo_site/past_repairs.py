"""The demo's repairs of past months: recorded stages and use, booked costs, and how long the tyres ran.

Written many rows at a time with one audit event, since a year of work one by one takes a minute to load.
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from random import Random

from django.db.models import Max

from planner.domain.injury import Zone
from planner.domain.money import minor_units
from planner.domain.size_reading import size_read
from planner.models import (
    CostApproval,
    CostOutcome,
    CostRepair,
    CostVariance,
    Damage,
    Shift,
    Tyre,
    User,
    WorkOrder,
)
from planner.selectors.accounts.approvals import booked_needs_get
from planner.selectors.accounts.books import month_of, site_day
from planner.selectors.accounts.desk import desk_get
from planner.selectors.accounts.sheets import recorded
from planner.selectors.routes import route_table_get
from planner.services.accounts.booked import actual_values, estimate_values, set_hours_count, variance_rows
from planner.services.audit import audit_event_add
from planner.services.demo_site.past_crew import past_crew_get
from planner.services.demo_site.past_records import PastRecords
from planner.services.demo_site.past_work import DAY_ENDS_AT, DAY_STARTS_AT
from planner.services.demo_site.scene import Scene
from planner.services.demo_site.tables import Row, table_of_site

_LEAST_TREAD, _NEW_TREAD = 30, 90


def past_repairs_load(scene: Scene, supervisor: User, accountant: User) -> None:
    """Repairs that ended before today, the oldest first, each booked into the month in which it ended."""
    rows = sorted(table_of_site("past_repairs", scene.site.code), key=lambda row: -int(row["ended_days_ago"]))
    if not rows:
        return
    tyres = Tyre.objects.bulk_create(_tyre(scene, row) for row in rows)
    orders = _orders(scene, rows, tyres)
    damages = Damage.objects.bulk_create(
        _damage(scene, supervisor, row, order) for row, order in zip(rows, orders, strict=True)
    )
    _work(scene, rows, damages)
    _book(scene, orders)
    _approve(orders, supervisor, accountant)
    audit_event_add(
        site=scene.site,
        user=accountant,
        action="past_repairs_load",
        row=scene.site,
        what=f"entered {len(rows)} repairs of the past year with their stages, use and costs",
        why="demo site",
    )


def past_outcomes(scene: Scene) -> Iterator[CostOutcome]:
    """How long the tyres of these repairs have run so far; those that still run are on file as such."""
    classes = route_table_get(site=scene.site)
    for row in table_of_site("past_repairs", scene.site.code):
        size_class = classes.size_class(size_read(row["size"]).size)
        if row["ran"] and size_class is not None:
            yield CostOutcome(
                site=scene.site,
                serial=row["serial"],
                zone=row["injury"].split()[0],
                size_class=size_class.code,
                repaired_on=scene.today - timedelta(days=int(row["ended_days_ago"])),
                hours=Decimal(row["ran_hours"]),
                distance_km=Decimal(row["ran_km"]),
                failed=row["ran"] == "failed",
            )


def _tyre(scene: Scene, row: Row) -> Tyre:
    random = Random(row["serial"])  # noqa: S311 (a demo's chance)
    tread = random.randrange(_LEAST_TREAD, _NEW_TREAD - 10)
    return Tyre(
        site=scene.site, serial=row["serial"], size=row["size"], size_as_written=row["size"],
        tread_depth_mm=tread, tread_depth_new_mm=_NEW_TREAD, hours_run=(_NEW_TREAD - tread) * 90,
        made_on=scene.today - timedelta(days=int(row["ended_days_ago"]) + random.randrange(300, 1500)),
    )  # fmt: skip


def _orders(scene: Scene, rows: list[Row], tyres: list[Tyre]) -> list[WorkOrder]:
    last = WorkOrder.objects.filter(site=scene.site).aggregate(last=Max("number"))["last"] or 0
    orders = []
    for number, (row, tyre) in enumerate(zip(rows, tyres, strict=True), start=last + 1):
        waited = 3 + len(row["serial"] + row["injury"]) % 11
        at = scene.at(-int(row["ended_days_ago"]) - waited, 7)
        orders.append(
            WorkOrder(
                site=scene.site, number=number, tyre=tyre, priority=10, received_at=at, released_at=at,
                needed_by=at + timedelta(days=waited + 3),
            )
        )  # fmt: skip
    return WorkOrder.objects.bulk_create(orders)


def _damage(scene: Scene, supervisor: User, row: Row, order: WorkOrder) -> Damage:
    zone, sizes = row["injury"].split()
    length, width, depth, plies = (int(number) for number in sizes.split("x"))
    return Damage(
        site=scene.site, tyre=order.tyre, work_order=order, zone=Zone(zone), length_mm=length,
        width_mm=width, depth_mm=depth, plies=plies, noted_at=order.received_at, noted_by=supervisor,
    )  # fmt: skip


def _work(scene: Scene, rows: list[Row], damages: list[Damage]) -> None:
    """Stages, use and shifts of each, and the order closed when the last stage ended."""
    desk = desk_get(site=scene.site)
    records = PastRecords(crew=past_crew_get(scene), desk=desk)
    for row, damage in zip(rows, damages, strict=True):
        records.add(row, damage, scene.at(-int(row["ended_days_ago"]) - 2, 0))
    records.keep()
    orders = [damage.work_order for damage in damages if damage.work_order]
    WorkOrder.objects.bulk_update(orders, ["state", "state_reason", "closed_at"])
    _shifts(scene, records)


def _shifts(scene: Scene, records: PastRecords) -> None:
    """The roster of the days on which there was work, so that what ran past it is overtime."""
    first = Shift.objects.filter(site=scene.site).order_by("day").values_list("day", flat=True).first()
    days = sorted(day for day in records.days if first is None or day < first)
    midnights = {day: scene.at((day - scene.today).days, 0) for day in days}
    Shift.objects.bulk_create(
        Shift(
            site=scene.site, technician=technician, day=day, starts_at=midnights[day] + DAY_STARTS_AT,
            ends_at=midnights[day] + DAY_ENDS_AT,
        )
        for day in days
        for technician in records.crew.on_duty(day)
    )  # fmt: skip


def _book(scene: Scene, orders: list[WorkOrder]) -> None:
    """Each estimate as of the day on which the tyre came, each actual as of the day on which it was done."""
    desk = desk_get(site=scene.site)
    rows = WorkOrder.objects.filter(pk__in=[order.pk for order in orders])
    repairs, actuals = [], []
    for order in rows.select_related("site", "tyre", "route").prefetch_related("damages"):
        came = replace(desk, day=site_day(scene.site, order.received_at))
        ended = replace(desk, day=site_day(scene.site, order.closed_at))
        actual = recorded(order, ended)
        values = estimate_values(order, came) | actual_values(order, actual, ended)
        repairs.append(CostRepair(site=scene.site, work_order=order, month=month_of(ended.day), **values))
        actuals.append(actual)
        set_hours_count(scene.site, actual)
    CostRepair.objects.bulk_create(repairs)
    pairs = zip(repairs, actuals, strict=True)
    CostVariance.objects.bulk_create(row for repair, actual in pairs for row in variance_rows(repair, actual))


def _approve(orders: list[WorkOrder], *approvers: User) -> None:
    """As many persons' approvals as each spend needed, two hours after the tyre came."""
    site = orders[0].site
    needs = booked_needs_get(user=approvers[0], site=site, orders=[order.pk for order in orders])
    approvals = CostApproval.objects.bulk_create(
        CostApproval(
            site=site, work_order=order, approver=approver, amount_minor=minor_units(needs[order.pk].amount)
        )
        for order in orders
        for approver in approvers[: needs[order.pk].missing]
    )
    for approval in approvals:
        approval.approved_at = approval.work_order.received_at + timedelta(hours=2)
    CostApproval.objects.bulk_update(approvals, ["approved_at"])

"""The rows of the demo's past repairs: stages with their people and set, and what each repair used."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from random import Random

from planner.costing.lines import CostKind
from planner.costing.work import RepairWork
from planner.domain.size_reading import size_read
from planner.domain.states import WorkOrderState
from planner.models import CostUse, Damage, StageRun, Technician, WorkOrder
from planner.selectors.accounts.desk import Desk
from planner.selectors.accounts.planned_work import planned_work_get
from planner.services.demo_site.past_crew import PastCrew
from planner.services.demo_site.past_work import PastStage, past_stages
from planner.services.demo_site.tables import Row

_STAGES_BEFORE_FAILING = 2
_WHY_FAILED = "cords rusted under the cut, seen once it was open"


@dataclass(slots=True, kw_only=True)
class PastRecords:
    """Gathers rows until `keep` writes them; `days` are those with work."""

    crew: PastCrew
    desk: Desk
    days: set[date] = field(default_factory=set)
    meter_kwh: Decimal = Decimal(41200)
    runs: list[StageRun] = field(default_factory=list)
    people: list[list[Technician]] = field(default_factory=list)
    uses: list[CostUse] = field(default_factory=list)

    def add(self, row: Row, damage: Damage, midnight: datetime) -> None:
        """One repair, begun on the day that starts at `midnight`; its order is closed in place."""
        order, random = damage.work_order, Random(row["serial"])  # noqa: S311 (a demo's chance)
        assert order is not None  # noqa: S101 (for the type)
        failed = row["outcome"] == "failed"
        done = list(
            past_stages(self.desk.bay.stages_of(order, damage), midnight, int(row["pace_percent"]), random)
        )
        done = done[:_STAGES_BEFORE_FAILING] if failed else done
        self._stage_runs(order, damage, done, random)
        order.state = WorkOrderState.REJECTED if failed else WorkOrderState.REPAIRED
        order.state_reason = _WHY_FAILED if failed else ""
        order.closed_at = done[-1].end
        work = planned_work_get(order=order, assumed=self.desk.assumed, bay=self.desk.bay)
        self._use(order, CostKind.TRANSPORT, "trip", Decimal(random.choice((2, 2, 2, 3))))
        if not failed:
            self._used(order, work, Decimal(row["use_percent"]) / 100, random)

    def keep(self) -> None:
        """Write everything."""
        runs = StageRun.objects.bulk_create(self.runs)
        through = StageRun.technicians.through
        through.objects.bulk_create(
            through(stagerun=run, technician=technician)
            for run, people in zip(runs, self.people, strict=True)
            for technician in people
        )
        CostUse.objects.bulk_create(self.uses)

    def _stage_runs(
        self, order: WorkOrder, damage: Damage, done: Sequence[PastStage], random: Random
    ) -> None:
        heater_set = self.crew.heater_set(size_read(order.tyre.size).size, damage.zone, random)
        places = {kind: self.crew.position(kind, random) for kind in {each.stage.place for each in done}}
        for each in done:
            people = self.crew.people(each.stage, each.start, random)
            self.days.add(each.start.date())
            self.people.append(people)
            self.runs.append(
                StageRun(
                    site=order.site, work_order=order, damage=damage, sequence=each.place,
                    name=each.stage.name, state="done", started_at=each.start, ended_at=each.end,
                    heater_set=heater_set if each.stage.block else None, position=places[each.stage.place],
                )
            )  # fmt: skip

    def _used(self, order: WorkOrder, work: RepairWork, share: Decimal, random: Random) -> None:
        """Lots, meter readings and the inspection, so much above or below what was planned."""
        for each in work.materials:
            lot = f"lot of {order.received_at:%b %Y}"
            self._use(order, CostKind.MATERIAL, each.material, each.quantity * share, lot)
        before, drawn = self.meter_kwh, Decimal(random.randrange(93, 114)) / 100
        self.meter_kwh += (work.energy_kwh * drawn).quantize(Decimal("0.1"))
        evidence = f"meter from {before} to {self.meter_kwh}"
        self._use(order, CostKind.ENERGY, "electricity", self.meter_kwh - before, evidence)
        self._use(order, CostKind.INSPECTION, "final inspection", Decimal(random.choice((1, 1, 1, 1, 2))))

    def _use(
        self, order: WorkOrder, kind: CostKind, item: str, quantity: Decimal, evidence: str = ""
    ) -> None:
        quantity = max(quantity.quantize(Decimal("0.01")), Decimal("0.01"))
        self.uses.append(
            CostUse(
                site=order.site, work_order=order, kind=kind, item=item, quantity=quantity, evidence=evidence
            )
        )  # fmt: skip

"""The demo's prices, rates, assumptions and outcomes: invented figures, each marked as such."""

from collections.abc import Mapping
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from django.utils import timezone

from planner.models import (
    CostAsset,
    CostAssumption,
    CostOutcome,
    CostPrice,
    CostRate,
    CostStock,
    User,
)
from planner.models.cost_assumption import ACCEPTED
from planner.services.audit import audit_event_add
from planner.services.demo_site.past_repairs import past_outcomes
from planner.services.demo_site.scene import Scene
from planner.services.demo_site.tables import table_of_site


def accounts_load(scene: Scene, accountant: User) -> None:
    """Prices, rates, stock and assumptions, with one audit event for the lot."""
    said = {"author": accountant, "reason": "opening of the books"}
    _prices(scene, said)
    _rates(scene, said)
    _stock(scene, said)
    _set_costs(scene, said)
    _assumptions(scene, accountant)
    audit_event_add(
        site=scene.site,
        user=accountant,
        action="accounts_load",
        row=scene.site,
        what="entered prices, rates, stock and assumptions",
        why="demo site",
    )


def _ago(scene: Scene, days: str) -> date:
    return scene.today - timedelta(days=int(days))


def _prices(scene: Scene, said: Mapping[str, Any]) -> None:
    CostPrice.objects.bulk_create(
        CostPrice(
            site=scene.site,
            kind=row["kind"],
            item=row["item"],
            unit=row["unit"],
            amount=Decimal(row["amount"]),
            currency=row["currency"],
            loading=Decimal(row["loading"]),
            overtime_factor=Decimal(row["overtime_factor"]),
            effective_from=_ago(scene, row["since_days"]),
            source=row["source"],
            **said,
        )
        for row in table_of_site("prices", scene.site.code)
    )


def _rates(scene: Scene, said: Mapping[str, Any]) -> None:
    CostRate.objects.bulk_create(
        CostRate(
            site=scene.site,
            kind=row["kind"],
            name=row["name"],
            rate=Decimal(row["rate"]),
            effective_from=_ago(scene, row["since_days"]),
            source=row["source"],
            **said,
        )
        for row in table_of_site("rates", scene.site.code)
    )


def _stock(scene: Scene, said: Mapping[str, Any]) -> None:
    CostStock.objects.bulk_create(
        CostStock(
            site=scene.site,
            size=row["size"],
            on_hand=int(row["on_hand"]),
            promised=int(row["promised"]),
            counted_on=scene.today - timedelta(days=3),
            **said,
        )
        for row in table_of_site("stock", scene.site.code)
    )


def _set_costs(scene: Scene, said: Mapping[str, Any]) -> None:
    CostAsset.objects.bulk_create(
        CostAsset(
            site=scene.site,
            item=row["item"],
            bought_on=_ago(scene, row["bought_days_ago"]),
            first_cost=Decimal(row["first_cost"]),
            salvage=Decimal(row["salvage"]),
            life_years=int(row["life_years"]),
            life_hours=int(row["life_hours"]),
            source=row["source"],
            **said,
        )
        for row in table_of_site("set_costs", scene.site.code)
    )


def outcomes_load(scene: Scene) -> None:
    """How long the tyres repaired in past years ran, and those of the repairs on file."""
    CostOutcome.objects.bulk_create(past_outcomes(scene))
    CostOutcome.objects.bulk_create(
        CostOutcome(
            site=scene.site,
            serial=row["serial"],
            zone=row["zone"],
            size_class=row["size_class"],
            repaired_on=_ago(scene, row["repaired_days_ago"]),
            hours=Decimal(row["hours"]),
            distance_km=Decimal(row["distance_km"]),
            failed=row["failed"] == "yes",
        )
        for row in table_of_site("outcomes", scene.site.code)
    )


def _assumptions(scene: Scene, accountant: User) -> None:
    CostAssumption.objects.bulk_create(
        CostAssumption(
            site=scene.site,
            name=row["name"],
            value=Decimal(row["value"]),
            effective_from=_ago(scene, row["since_days"]),
            reason=row["reason"],
            author=accountant,
            proposed_at=timezone.now(),
            state=ACCEPTED,
            decided_by=accountant,
            decided_at=timezone.now(),
        )
        for row in table_of_site("assumptions", scene.site.code)
    )

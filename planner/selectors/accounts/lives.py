"""How long a repaired tyre of the site still runs, bounded by its tread and its casing's age."""

from datetime import date
from decimal import Decimal

from planner.costing.assumptions import Assumed, Assumption
from planner.engineering.life_bound import LifeBounds, age_hours, tread_hours
from planner.engineering.life_estimate import LifePrior
from planner.engineering.life_records import LifeRecord
from planner.models import CostOutcome, Site, Tyre

NO_BOUND = 1e9


def life_records_get(*, site: Site) -> tuple[LifeRecord, ...]:
    """Every repaired tyre with an outcome on file."""
    rows = CostOutcome.objects.filter(site=site).values_list(
        "zone", "size_class", "failed", "hours", "distance_km"
    )
    return tuple(
        LifeRecord(
            zone=zone,
            size_class=size_class,
            failed=failed,
            hours=float(hours),
            km=None if km is None else float(km),
        )
        for zone, size_class, failed, hours, km in rows
    )


def prior_of(assumed: Assumed, times: float = 1.0) -> LifePrior:
    """What the site assumes for want of records [h]; `times` a speed [km/h] makes it a distance [km]."""
    mean, shape = assumed[Assumption.REPAIRED_LIFE], assumed[Assumption.REPAIRED_SHAPE]
    return LifePrior(mean=float(mean) * times, shape=float(shape))


def age_years(tyre: Tyre, day: date) -> Decimal | None:
    """The casing's age on the day; None where its making is not on file [years]."""
    if tyre.made_on is None:
        return None
    return (Decimal((day - tyre.made_on).days) / Decimal("365.25")).quantize(Decimal("0.1"))


def bounds_get(*, tyre: Tyre, assumed: Assumed, day: date) -> LifeBounds:
    """The hours that tread and age leave; what is not on file bounds nothing."""
    age, tread = age_years(tyre, day), tyre.tread_depth_mm
    by_tread = by_age = NO_BOUND
    if tread is not None:
        least, wear = assumed[Assumption.LEAST_TREAD], assumed[Assumption.TREAD_WEAR]
        by_tread = tread_hours(float(tread), float(least), float(wear))
    if age is not None:
        greatest, a_year = assumed[Assumption.GREATEST_AGE], assumed[Assumption.HOURS_A_YEAR]
        by_age = age_hours(float(age), float(greatest), float(a_year))
    return LifeBounds(tread_hours=by_tread, age_hours=by_age)

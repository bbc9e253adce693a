"""What a site must assume before anything can be compared: each with its unit and the values it may have."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _


class Assumption(StrEnum):
    """Something that the accountant signs for."""

    DISCOUNT_RATE = "discount rate"
    HOURS_A_YEAR = "running hours a year"
    WAITING_COST = "cost of an hour's waiting"
    FAILURE_ODDS = "odds that a repair fails"
    REWORK_ODDS = "odds that a repair is done over"
    SET_KWH_AN_HOUR = "energy of an energised set"
    WRITING_OFF = "way of writing off heater sets"
    SET_HOURS_A_YEAR = "use of a heater set in a year"
    DECLINING_SHARE = "worth that a heater set loses in a year"
    RUBBER_KG_A_LITRE = "rubber for a litre of injury"
    TRIPS = "trips for a repair"
    INSPECTIONS = "inspections of a repair"
    REPAIRED_LIFE = "life after repair, for want of records"
    REPAIRED_SHAPE = "shape of the life after repair"
    NEW_LIFE = "life of a new tyre"
    NEW_SHAPE = "shape of the life of a new tyre"
    TREAD_WEAR = "tread wear"
    LEAST_TREAD = "least tread left"
    GREATEST_AGE = "greatest casing age"
    MOST_REPAIRS = "greatest number of repairs"
    COST_SPREAD = "spread of costs and prices"
    CLEAR_ODDS = "odds called clear"
    LEAD_TIME = "lead time of a new tyre"
    REPAIR_TIME = "time that a repair takes"
    CUSHION_KG_A_M2 = "cushion for a square metre of injury"
    OVERTIME_SHARE = "share of hands-on work in overtime"
    SEND_OUT_TIME = "time away when sent out"
    RETREAD_TIME = "time away for a retread"
    RETREAD_LIFE = "life of a retread"
    ONE_APPROVAL = "spend that one person approves"
    TWO_APPROVALS = "spend that two persons approve"


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowed:
    """The unit of an assumption and the least and greatest value that make sense; {money} is the currency."""

    unit: str
    least: Decimal
    greatest: Decimal
    whole: bool = False


def _allowed(unit: str, least: str, greatest: str, *, whole: bool = False) -> Allowed:
    return Allowed(unit=unit, least=Decimal(least), greatest=Decimal(greatest), whole=whole)


_ODDS = _allowed("share", "0", "0.95")
_LIFE = _allowed("h", "1", "100000")
_SHAPE = _allowed("1", "0.3", "20")
_MONEY = _allowed("{money}", "0", "100000000")

ALLOWED: Mapping[Assumption, Allowed] = {
    Assumption.DISCOUNT_RATE: _allowed("share a year", "0", "0.95"),
    Assumption.HOURS_A_YEAR: _allowed("h a year", "1", "8784"),
    Assumption.WAITING_COST: _allowed("{money} an hour", "0", "1000000"),
    Assumption.FAILURE_ODDS: _ODDS,
    Assumption.REWORK_ODDS: _ODDS,
    Assumption.SET_KWH_AN_HOUR: _allowed("kWh an hour", "0", "1000"),
    Assumption.WRITING_OFF: _allowed(
        "1 straight line, 2 by hours, 3 declining balance, 4 sum of digits", "1", "4", whole=True
    ),
    Assumption.SET_HOURS_A_YEAR: _allowed("h a year", "1", "8784"),
    Assumption.DECLINING_SHARE: _allowed("share", "0.01", "0.99"),
    Assumption.RUBBER_KG_A_LITRE: _allowed("kg a litre", "0", "10"),
    Assumption.TRIPS: _allowed("trips", "0", "20"),
    Assumption.INSPECTIONS: _allowed("inspections", "0", "20"),
    Assumption.REPAIRED_LIFE: _LIFE,
    Assumption.REPAIRED_SHAPE: _SHAPE,
    Assumption.NEW_LIFE: _LIFE,
    Assumption.NEW_SHAPE: _SHAPE,
    Assumption.TREAD_WEAR: _allowed("mm per 1000 h", "0.01", "500"),
    Assumption.LEAST_TREAD: _allowed("mm", "0", "300"),
    Assumption.GREATEST_AGE: _allowed("years", "0.5", "30"),
    Assumption.MOST_REPAIRS: _allowed("repairs", "1", "50"),
    Assumption.COST_SPREAD: _allowed("share", "0", "2"),
    Assumption.CLEAR_ODDS: _allowed("share", "0.5", "0.99"),
    Assumption.LEAD_TIME: _allowed("h", "0", "20000"),
    Assumption.REPAIR_TIME: _allowed("h", "0", "5000"),
    Assumption.CUSHION_KG_A_M2: _allowed("kg a square metre", "0", "50"),
    Assumption.OVERTIME_SHARE: _allowed("share", "0", "1"),
    Assumption.SEND_OUT_TIME: _allowed("h", "0", "20000"),
    Assumption.RETREAD_TIME: _allowed("h", "0", "20000"),
    Assumption.RETREAD_LIFE: _LIFE,
    Assumption.ONE_APPROVAL: _MONEY,
    Assumption.TWO_APPROVALS: _MONEY,
}


def assumption_check(name: Assumption, value: Decimal) -> None:
    """Raise InvalidValueError, with both ends, where the value makes no sense for that assumption."""
    allowed = ALLOWED[name]
    if not value.is_finite() or not allowed.least <= value <= allowed.greatest:
        raise InvalidValueError(
            _(
                "{name} must be from {least} to {greatest} {unit}, not {value}",
                name=name,
                least=allowed.least,
                greatest=allowed.greatest,
                unit=allowed.unit,
                value=value,
            )
        )
    if allowed.whole and value != int(value):
        raise InvalidValueError(_("{name} must be a whole number, not {value}", name=name, value=value))


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumed:
    """Every assumption that held on a day, by its name."""

    values: Mapping[Assumption, Decimal]

    def __getitem__(self, name: Assumption) -> Decimal:
        """The value; InvalidValueError, saying what to do, where the site has not assumed any."""
        if name not in self.values:
            raise InvalidValueError(
                _("the site has no accepted assumption for {name}: the accountant enters one", name=name)
            )
        return self.values[name]

    def or_else(self, name: Assumption, otherwise: Decimal) -> Decimal:
        """The value; `otherwise` where the site has not assumed any, for what a site need not assume."""
        return self.values.get(name, otherwise)

    def changed(self, name: Assumption, value: Decimal) -> "Assumed":
        """The same with one value changed."""
        assumption_check(name, value)
        return Assumed(values={**self.values, name: value})

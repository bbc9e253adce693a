"""The power energised at once within the limit."""

from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.supply import draws_of, totals
from planner.scheduling.verify.view import PlanView

_ROUNDING_KW = 1e-9
"""Sums of decimal kW in binary are off by less than this; nobody's limit is set so finely."""


def power_check(view: PlanView) -> Iterator[Breach]:
    """Moments with more kW than the limit."""
    limit = view.problem.rules.power_limit_kw
    if limit is None:
        return
    for moment, power_kw in totals(draws_of(view), lambda heater_set: heater_set.power_kw):
        if power_kw > limit + _ROUNDING_KW:
            message = _(
                "{power_kw:g} kW are energised at {when:minute}, the limit is {limit:g} kW",
                power_kw=power_kw,
                when=view.when(moment),
                limit=limit,
            )
            yield Breach(rule="power", message=message)

"""The controller channels energised at once within the limit."""

from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.supply import draws_of, totals
from planner.scheduling.verify.view import PlanView


def channels_check(view: PlanView) -> Iterator[Breach]:
    """Moments with more channels than the limit."""
    limit = view.problem.rules.channel_limit
    if limit is None:
        return
    for moment, channels in totals(draws_of(view), lambda heater_set: heater_set.channels):
        if channels > limit:
            message = _(
                "{channels:g} channels are energised at {when:minute}, the limit is {limit}",
                channels=channels,
                when=view.when(moment),
                limit=limit,
            )
            yield Breach(rule="channels", message=message)

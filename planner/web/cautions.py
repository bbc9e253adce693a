"""The usual cautions, each at the stage where it matters. Common practice: it defers to who knows better.

The material maker's chart, the tyre maker, local codes and licensed practice always win.
"""

from collections.abc import Iterable

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from planner.web.timeline.appearance import Look

BEFORE_WORK: tuple[str | Promise, ...] = (
    _("Tyre demounted, deflated and cold? Valve core out; stand clear of the trajectory while air leaves."),
    _("A tyre that has seen heat on the machine stays in quarantine for 24 h, away from people."),
    _("Lift with rated gear only; nobody under or beside a tyre that hangs or may roll. Secure it first."),
)

CAUTIONS: dict[Look, tuple[str | Promise, ...]] = {
    Look.HANDS_ON: (
        _("Buffing: guard, eyes, ears and mask on. Fumes out; no flame and no hot pad near solvents."),
        _("Cement must be dry before any heat. Keep the maker's least and greatest waits."),
    ),
    Look.RIG: (
        _("Pads right way up, dusted, never lifted by their leads. Bags inspected. Pins fully home."),
        _("Nothing trapped; hands out of the frame before air goes in. Keep to the maker's bag pressure."),
    ),
    Look.HEAT_UP: (
        _("Hot pads burn. Never leave heat or pressure unattended, not for one minute."),
        _("Start the cure's clock only when both pads are at the chart's temperature."),
    ),
    Look.CURE: (
        _("Never leave unattended. Hand the watch over by name, face to face, before you go."),
        _("Rubber fumes: extraction on. Readings on time; if one is off the chart, call the supervisor."),
    ),
    Look.COOL_DOWN: (
        _("Power off, bags under pressure: stored energy. Attend until the release temperature."),
    ),
    Look.STRIP: (
        _("Frame pins stay in until ALL the air is out of both bags. Gauge at zero, valves left open."),
        _("Pads are still hot. Isolate the set before you take leads off."),
    ),
    Look.WAIT: (_("Nothing to do but wait: no heat, no flame and no buffing beside wet cement."),),
    Look.WATCH: (
        _("Stay where you see every tyre you attend. Know where the isolator and the dump valves are."),
        _("If you must leave, somebody named takes over first."),
    ),
}

END_OF_DAY: tuple[str | Promise, ...] = (
    _("Before lock-up: every set off, every bag empty, supply isolated, locked and tagged by site rule."),
)

DEFERENCE = _(
    "Common practice only. Local codes, the tyre maker's and the repair-material maker's instructions, "
    "your permits and licensed practice come first."
)


def cautions_for(looks: Iterable[Look]) -> tuple[str | Promise, ...]:
    """The cautions of these kinds of stage, each once, in the order of the work."""
    wanted = set(looks)
    return tuple(caution for look, words in CAUTIONS.items() if look in wanted for caution in words)

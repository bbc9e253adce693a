"""What each fill of the timeline means."""

from django.utils.translation import gettext_lazy as _

LEGEND = (
    ("look-rig", _("rig")),
    ("look-heat-up", _("heat up")),
    ("look-cure", _("cure")),
    ("look-cool-down", _("cool down under pressure")),
    ("look-strip", _("strip")),
    ("look-hands-on", _("other hands-on work")),
    ("look-wait", _("wait")),
    ("look-watch", _("attending")),
    ("shade-off-shift", _("off shift")),
    ("shade-break", _("break")),
    ("shade-closed", _("closed")),
    ("shade-isolated", _("supply isolated")),
)

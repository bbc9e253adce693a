"""One machine: its positions with their tyres, its meter, and what came off it."""

from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST

from planner.domain.errors import InvalidValueError
from planner.domain.fleet import RemovalReason
from planner.domain.permissions import Action
from planner.selectors.machines import (
    fitting_list,
    fleet_list,
    machine_get,
    reading_list,
    spare_tyre_list,
)
from planner.services.machines import machine_hours_record, machine_tyre_fit, machine_tyre_take_off
from planner.web.here import Here, show, site_page, tell

_ROWS = 12
_REASONS = (
    (RemovalReason.DAMAGED, gettext_lazy("damaged")),
    (RemovalReason.WORN, gettext_lazy("worn out")),
    (RemovalReason.MOVED, gettext_lazy("moved to another position")),
    (RemovalReason.OTHER, gettext_lazy("something else")),
)


class HoursForm(forms.Form):
    """What the hour meter says."""

    hours = forms.IntegerField(min_value=0, max_value=1_000_000)


class FitForm(forms.Form):
    """Which tyre goes where."""

    position = forms.SlugField(max_length=20)
    serial = forms.CharField(max_length=40)


class TakeOffForm(forms.Form):
    """Which tyre comes off, and why."""

    serial = forms.CharField(max_length=40)
    reason = forms.ChoiceField(choices=_REASONS)
    why = forms.CharField(max_length=300, required=False)


@site_page(Action.SITE_READ)
def machine(request: HttpRequest, here: Here, code: str) -> HttpResponse:
    """The machine's page."""
    row = machine_get(user=here.user, site=here.site, code=code)
    (found,) = fleet_list(user=here.user, site=here.site, now=timezone.now(), machine=row)
    sizes = {seat.position.size for seat in found.empty}
    spares = spare_tyre_list(user=here.user, site=here.site).filter(size__in=sizes) if sizes else []
    return show(
        request, here, "fleet/machine.html", "fleet", row=found, spares=spares, reasons=_REASONS,
        past=fitting_list(user=here.user, machine=row)[:_ROWS],
        readings=reading_list(user=here.user, machine=row)[:_ROWS],
    )  # fmt: skip


@require_POST
@site_page(Action.TYRE_RECORD)
def hours(request: HttpRequest, here: Here, code: str) -> HttpResponse:
    """Keep a meter reading."""
    told = _told(HoursForm(request.POST), _("Give the meter's hours as a whole number."))
    row = machine_get(user=here.user, site=here.site, code=code)
    machine_hours_record(user=here.user, machine=row, hours=told["hours"])
    tell(request, _("%(machine)s: %(hours)s h.") % {"machine": row, "hours": told["hours"]})
    return redirect("machine", here.site.code, code)


@require_POST
@site_page(Action.TYRE_RECORD)
def fit(request: HttpRequest, here: Here, code: str) -> HttpResponse:
    """Fit a tyre on a position."""
    told = _told(FitForm(request.POST), _("Name the position and the tyre's serial."))
    row = machine_get(user=here.user, site=here.site, code=code)
    tyre = machine_tyre_fit(user=here.user, machine=row, position=told["position"], serial=told["serial"])
    tell(request, _("%(tyre)s sits on %(machine)s.") % {"tyre": tyre.serial, "machine": row})
    return redirect("machine", here.site.code, code)


@require_POST
@site_page(Action.TYRE_RECORD)
def take_off(request: HttpRequest, here: Here, code: str) -> HttpResponse:
    """Take a tyre off."""
    told = _told(TakeOffForm(request.POST), _("Name the tyre, and say why it comes off."))
    row = machine_get(user=here.user, site=here.site, code=code)
    tyre = machine_tyre_take_off(
        user=here.user, machine=row, serial=told["serial"], reason=RemovalReason(told["reason"]),
        why=told["why"],
    )  # fmt: skip
    words = _("%(tyre)s is off %(machine)s. Register its damage when it comes to the bay.")
    tell(request, words % {"tyre": tyre.serial, "machine": row})
    return redirect("machine", here.site.code, code)


def _told(form: forms.Form, fault: str) -> dict[str, Any]:
    if not form.is_valid():
        raise InvalidValueError(fault)
    return form.cleaned_data

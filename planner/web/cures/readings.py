"""Readings of a cure one by one: taken now, corrected beside what was wrong, judged as a log."""

from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.selectors.cure_logs import damage_of_order_get
from planner.selectors.cure_readings import cure_reading_get
from planner.selectors.preferences import Reading
from planner.selectors.reading_units import gauge_reading
from planner.services.cure_hand_logs import cure_readings_judge
from planner.services.cure_readings import cure_reading_add, cure_reading_correct
from planner.web.here import Here, site_page, tell

MOMENT = forms.DateTimeInput(attrs={"type": "datetime-local"}, format="%Y-%m-%dT%H:%M")


class ReadingForm(forms.Form):
    """Both pads and the bags as the gauges show them, in the reader's units."""

    taken_at = forms.DateTimeField(
        label=gettext_lazy("Read at"), widget=MOMENT, input_formats=["%Y-%m-%dT%H:%M"]
    )
    inside = forms.CharField(max_length=12, required=False)
    outside = forms.CharField(max_length=12, required=False)
    pressure = forms.CharField(max_length=12, required=False)

    def __init__(self, reading: Reading, prefix: str, *args: Any, **named: Any) -> None:
        super().__init__(*args, **named)
        self.auto_id = f"{prefix}-%s"
        pads, bags = reading.temperature_unit, reading.pressure_unit
        for name, label in (
            ("inside", _("Inside pad (%s)") % pads),
            ("outside", _("Outside pad (%s)") % pads),
            ("pressure", _("Lower bag (%s)") % bags),
        ):
            self.fields[name].label = label
            self.fields[name].widget.attrs |= {"inputmode": "decimal", "autocomplete": "off"}


@require_POST
@site_page(Action.WORK_RECORD)
def add(request: HttpRequest, here: Here, number: int, injury: int) -> HttpResponse:
    """Record one reading."""
    damage = damage_of_order_get(user=here.user, site=here.site, number=number, damage_id=injury)
    form = ReadingForm(here.reading, "reading", request.POST)
    if not form.is_valid():
        raise InvalidValueError(_("Say when the gauges were read, and what they showed."))
    if form.cleaned_data["taken_at"] > timezone.now():
        raise InvalidValueError(_("A reading cannot be taken ahead of now."))
    row = cure_reading_add(
        user=here.user, damage=damage, reading=gauge_reading(here.reading, form.cleaned_data),
        taken_at=form.cleaned_data["taken_at"],
    )  # fmt: skip
    tell(request, _("Recorded: %(reading)s.") % {"reading": row.as_typed})
    return redirect("cure_logs", here.site.code, number)


@require_POST
@site_page(Action.WORK_RECORD)
def correct(request: HttpRequest, here: Here, number: int, reading_id: int) -> HttpResponse:
    """Put the right reading beside a wrong one, or withdraw it."""
    wrong = cure_reading_get(user=here.user, site=here.site, reading_id=reading_id)
    told = {name: request.POST.get(name, "") for name in ("inside", "outside", "pressure")}
    right = None if request.POST.get("withdraw") else gauge_reading(here.reading, told)
    cure_reading_correct(user=here.user, wrong=wrong, reading=right, reason=request.POST.get("reason", ""))
    tell(request, _("The correction stands beside the reading; both stay on record."))
    return redirect("cure_logs", here.site.code, number)


@require_POST
@site_page(Action.WORK_RECORD)
def judge(request: HttpRequest, here: Here, number: int, injury: int) -> HttpResponse:
    """Go on to look at the readings as a log."""
    damage = damage_of_order_get(user=here.user, site=here.site, number=number, damage_id=injury)
    kept = cure_readings_judge(user=here.user, damage=damage)
    return redirect("cure_log_look", here.site.code, kept.pk)

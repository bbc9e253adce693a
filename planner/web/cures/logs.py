"""The cures of one order: what the plan asks, what the logs say, and a new log to look at."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_POST

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.selectors.cure_limits import LimitWords
from planner.selectors.cure_logs import damage_of_order_get, order_log_list
from planner.selectors.cure_readings import ReadingHistory, reading_history_list
from planner.selectors.cures import logger_name_list
from planner.selectors.nouns import HeaterSet, LoggedCure
from planner.selectors.order_cures import OrderCure, order_cure_list, order_limit_map_get
from planner.selectors.resources import heater_set_list
from planner.selectors.work_orders import work_order_get
from planner.services.cure_hand_logs import cure_readings_upload
from planner.services.cure_log_uploads import cure_log_upload_add
from planner.services.cure_traces import cure_trace_get
from planner.web.charts.cure_chart import cure_chart_events, cure_chart_svg
from planner.web.charts.cure_log_svg import Event
from planner.web.cures.readings import ReadingForm
from planner.web.here import Here, show, site_page


@dataclass(frozen=True, slots=True, kw_only=True)
class LogView:
    """A log that is on file, drawn again from its own bytes."""

    log: LoggedCure
    drawing: str
    events: list[Event]


@dataclass(frozen=True, slots=True, kw_only=True)
class CureView:
    """One injury's cure with its readings, logs, the limits that hold, and the forms for more."""

    cure: OrderCure
    logs: list[LogView]
    readings: Sequence[ReadingHistory]
    limits: Sequence[LimitWords]
    upload_form: "UploadForm"
    typed_form: "TypedForm"
    reading_form: ReadingForm


class _OnSetForm(forms.Form):
    """What both forms ask: on which set the cure was."""

    heater_set: "forms.ModelChoiceField[HeaterSet]" = forms.ModelChoiceField(
        label=_("Heater set"), queryset=None, required=False, empty_label=_("not known")
    )

    def __init__(self, here: Here, prefix: str, *args: Any, **named: Any) -> None:
        super().__init__(*args, **named)
        self.auto_id = f"{prefix}-%s"
        field = self.fields["heater_set"]
        if isinstance(field, forms.ModelChoiceField):
            field.queryset = heater_set_list(user=here.user, site=here.site)


class UploadForm(_OnSetForm):
    """A logger's file."""

    file = forms.FileField(label=_("File"), help_text=_("CSV or XLSX of any logger, at most 64 MB."))
    logger = forms.CharField(
        label=_("Logger"), max_length=60, required=False,
        help_text=_("Its name: the columns are remembered by it."),
        widget=forms.TextInput(attrs={"list": "loggers", "autocomplete": "off"}),
    )  # fmt: skip


class TypedForm(_OnSetForm):
    """Readings that were written down by hand, in the reader's units."""

    readings = forms.CharField(label=_("Readings"), widget=forms.Textarea(attrs={"rows": 8}))

    def __init__(self, here: Here, prefix: str, *args: Any, **named: Any) -> None:
        super().__init__(here, prefix, *args, **named)
        pads, bags = here.reading.temperature_unit, here.reading.pressure_unit
        self.fields["readings"].help_text = _(
            "A line each: minute, inside %(pads)s, outside %(pads)s, lower bag %(bags)s. A missed one is -."
        ) % {"pads": pads, "bags": bags}


@site_page(Action.SITE_READ)
def logs(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """The page."""
    order = work_order_get(user=here.user, site=here.site, number=number)
    found = list(order_log_list(user=here.user, order=order))
    taken = reading_history_list(user=here.user, order=order)
    limits = order_limit_map_get(order=order)
    cures = [
        CureView(
            cure=cure,
            logs=[_log_view(here, log) for log in found if log.damage_id == cure.damage.pk],
            readings=taken.get(cure.damage.pk, []),
            limits=limits[cure.damage.pk],
            upload_form=UploadForm(here, f"upload-{cure.damage.pk}"),
            typed_form=TypedForm(here, f"typed-{cure.damage.pk}"),
            reading_form=ReadingForm(
                here.reading, f"reading-{cure.damage.pk}", initial={"taken_at": timezone.localtime()}
            ),
        )
        for cure in order_cure_list(order=order)
    ]
    loggers = logger_name_list(user=here.user, site=here.site)
    return show(request, here, "cures/logs.html", "queue", order=order, cures=cures, loggers=loggers)


@require_POST
@site_page(Action.WORK_RECORD)
def upload(request: HttpRequest, here: Here, number: int, injury: int) -> HttpResponse:
    """Put a file aside and go on to look at it."""
    damage = damage_of_order_get(user=here.user, site=here.site, number=number, damage_id=injury)
    form = UploadForm(here, "upload", request.POST, request.FILES)
    if not form.is_valid():
        raise InvalidValueError(_("Choose the logger's file."))
    told = form.cleaned_data
    kept = cure_log_upload_add(
        user=here.user, damage=damage, raw=told["file"].read(), name=told["file"].name,
        logger=told["logger"], heater_set=told["heater_set"],
    )  # fmt: skip
    return redirect("cure_log_look", here.site.code, kept.pk)


@require_POST
@site_page(Action.WORK_RECORD)
def typed(request: HttpRequest, here: Here, number: int, injury: int) -> HttpResponse:
    """Put typed readings aside and go on to look at them."""
    damage = damage_of_order_get(user=here.user, site=here.site, number=number, damage_id=injury)
    form = TypedForm(here, "typed", request.POST)
    if not form.is_valid():
        raise InvalidValueError(_("Type at least three readings, a line each."))
    told = form.cleaned_data
    kept = cure_readings_upload(
        user=here.user, damage=damage, readings=told["readings"], heater_set=told["heater_set"],
        temperature_unit=here.reading.temperature_unit, pressure_unit=here.reading.pressure_unit,
    )  # fmt: skip
    return redirect("cure_log_look", here.site.code, kept.pk)


def _log_view(here: Here, log: LoggedCure) -> LogView:
    trace = cure_trace_get(logged_cure=log)
    return LogView(
        log=log,
        drawing=cure_chart_svg(trace, here.reading),
        events=cure_chart_events(trace, here.reading),
    )

"""A file before it is kept: which column is what, what is odd about it, and the verdict."""

from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.selectors.nouns import CureLogUpload
from planner.selectors.telling import in_words
from planner.services.cure_log_uploads import (
    columns_of,
    cure_log_upload_get,
    upload_column_names,
    upload_columns_set,
    upload_keep,
    upload_look,
    upload_put_away,
)
from planner.web.charts.cure_chart import cure_chart_events, cure_chart_svg
from planner.web.here import Here, show, site_page, tell


class ColumnsForm(forms.Form):
    """Which column is what, and in which unit."""

    time = forms.ChoiceField(label=gettext_lazy("Time"))
    time_kind = forms.ChoiceField(
        label=gettext_lazy("Time is"),
        choices=[
            ("clock", gettext_lazy("clock time")),
            ("elapsed_minutes", gettext_lazy("elapsed minutes")),
            ("elapsed_seconds", gettext_lazy("elapsed seconds")),
        ],
    )
    time_zone = forms.CharField(
        label=gettext_lazy("Zone of its clock"), required=False, max_length=64,
        help_text=gettext_lazy("Empty: its clock never changes."),
    )  # fmt: skip
    date = forms.ChoiceField(label=gettext_lazy("Date, where it has its own"), required=False)
    inside = forms.ChoiceField(label=gettext_lazy("Inside pad"))
    outside = forms.ChoiceField(label=gettext_lazy("Outside pad"))
    temperature_unit = forms.ChoiceField(
        label=gettext_lazy("Temperatures in"), choices=[("celsius", "°C"), ("fahrenheit", "°F")]
    )
    pressure = forms.ChoiceField(label=gettext_lazy("Pressure of a bag"), required=False)
    pressure_2 = forms.ChoiceField(
        label=gettext_lazy("Pressure of the other bag"), required=False,
        help_text=gettext_lazy("The lower of both counts."),
    )  # fmt: skip
    pressure_unit = forms.ChoiceField(
        label=gettext_lazy("Pressure in"), choices=[("kpa", "kPa"), ("psi", "psi"), ("bar", "bar")]
    )

    def __init__(self, names: list[str], *args: Any, **named: Any) -> None:
        super().__init__(*args, **named)
        choices = [(name, name) for name in names]
        for field in ("time", "inside", "outside"):
            self.fields[field].choices = choices  # type: ignore[attr-defined]
        for field, words in (("pressure", _("not logged")), ("pressure_2", "–"), ("date", "–")):
            self.fields[field].choices = [("", words), *choices]  # type: ignore[attr-defined]


@site_page(Action.WORK_RECORD)
def look(request: HttpRequest, here: Here, upload_id: int) -> HttpResponse:
    """Judge the file by its columns as they are set now; other columns come by POST."""
    upload = cure_log_upload_get(user=here.user, site=here.site, upload_id=upload_id)
    names = upload_column_names(upload=upload)
    form = ColumnsForm(names, request.POST or None, initial=_initial(upload))
    if request.method == "POST" and form.is_valid():
        try:
            upload_columns_set(upload=upload, columns=columns_of(form.cleaned_data))
        except InvalidValueError as fault:
            form.add_error(None, in_words(fault))
    return show(
        request, here, "cures/look.html", "queue", upload=upload, order=upload.damage.work_order, form=form,
        **_looked(here, upload),
    )  # fmt: skip


@require_POST
@site_page(Action.WORK_RECORD)
def keep(request: HttpRequest, here: Here, upload_id: int) -> HttpResponse:
    """Import it with its verdict."""
    upload = cure_log_upload_get(user=here.user, site=here.site, upload_id=upload_id)
    number = upload.damage.work_order.number if upload.damage.work_order else 0
    upload_keep(user=here.user, upload=upload)
    tell(
        request, _("The log is on file with its verdict. A person decides on the cure; nothing is released.")
    )
    return redirect("cure_logs", here.site.code, number)


@require_POST
@site_page(Action.WORK_RECORD)
def put_away(request: HttpRequest, here: Here, upload_id: int) -> HttpResponse:
    """Forget it."""
    upload = cure_log_upload_get(user=here.user, site=here.site, upload_id=upload_id)
    number = upload.damage.work_order.number if upload.damage.work_order else 0
    upload_put_away(user=here.user, upload=upload)
    tell(request, _("The file was put away. Nothing was kept of it."))
    return redirect("cure_logs", here.site.code, number)


def _initial(upload: CureLogUpload) -> dict[str, Any]:
    told = dict(upload.columns or {})
    bags = dict(zip(("pressure", "pressure_2"), told.pop("pressure", ()), strict=False))
    return {**told, **bags}


def _looked(here: Here, upload: CureLogUpload) -> dict[str, Any]:
    """The verdict with its drawing; the fault where the columns do not fit."""
    try:
        judgement, trace = upload_look(upload=upload)
    except InvalidValueError as fault:
        return {"fault": in_words(fault)}
    return {
        "judgement": judgement,
        "plan": trace.plan,
        "drawing": cure_chart_svg(trace, here.reading),
        "events": cure_chart_events(trace, here.reading),
        "readings": trace.readings,
        "minutes": trace.minutes[-1],
    }

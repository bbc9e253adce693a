"""An injury measured after skiving: its new size, and what that did to the cure and to the plan."""

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.selectors.cure_logs import damage_of_order_get
from planner.services.tyres import damage_measure
from planner.web.here import Here, site_page, tell


class MeasureForm(forms.Form):
    """The size after skiving [mm], and the layers below the fill where they are known."""

    length_mm = forms.IntegerField(min_value=1, max_value=5000)
    width_mm = forms.IntegerField(min_value=1, max_value=5000)
    depth_mm = forms.IntegerField(min_value=1, max_value=500)
    plies = forms.IntegerField(min_value=0, max_value=100)
    cushion_mm = forms.IntegerField(min_value=0, max_value=100, required=False)
    casing_mm = forms.IntegerField(min_value=0, max_value=400, required=False)


@require_POST
@site_page(Action.DAMAGE_RECORD)
def measure(request: HttpRequest, here: Here, number: int, injury: int) -> HttpResponse:
    """Record the measured size; the order's page then says what it did."""
    damage = damage_of_order_get(user=here.user, site=here.site, number=number, damage_id=injury)
    form = MeasureForm(request.POST)
    if not form.is_valid():
        raise InvalidValueError(
            _("Give length, width and depth in whole mm (depth at most 500) and the plies cut, 0 to 100.")
        )
    damage_measure(user=here.user, damage=damage, why=_("measured after skiving"), **form.cleaned_data)
    tell(request, _("Measured: the cure's minutes are firm now."))
    return redirect("work_order", here.site.code, number)

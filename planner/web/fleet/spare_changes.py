"""What is on order, and what is assumed of a size."""

from typing import Any
from urllib.parse import urlencode

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.services.removal_assumptions import removal_assumption_set
from planner.services.tyre_deliveries import (
    tyre_delivery_call_off,
    tyre_delivery_date,
    tyre_delivery_order,
    tyre_delivery_receive,
)
from planner.web.here import Here, site_page, tell


class DeliveryForm(forms.Form):
    """New tyres on order."""

    size = forms.CharField(max_length=60)
    quantity = forms.IntegerField(min_value=1, max_value=500)
    expected_on = forms.DateField()
    reference = forms.CharField(max_length=60, required=False)


class DayForm(forms.Form):
    """Another day."""

    size = forms.CharField(max_length=60)
    expected_on = forms.DateField()


class AssumptionForm(forms.Form):
    """Running hours until a tyre comes off, and where the figure is from."""

    size = forms.CharField(max_length=60)
    hours = forms.IntegerField(min_value=10, max_value=100_000)
    reason = forms.CharField(max_length=300)


@require_POST
@site_page(Action.SPARES_CHANGE)
def order(request: HttpRequest, here: Here) -> HttpResponse:
    """Put new tyres on order."""
    told = _told(DeliveryForm(request.POST), _("Give the size, how many, and the day they are expected."))
    row = tyre_delivery_order(
        user=here.user, site=here.site, size_as_written=told["size"], quantity=told["quantity"],
        expected_on=told["expected_on"], reference=told["reference"],
    )  # fmt: skip
    tell(request, _("On order: %(delivery)s.") % {"delivery": row})
    return _back(here, row.size)


@require_POST
@site_page(Action.SPARES_CHANGE)
def put_off(request: HttpRequest, here: Here, delivery: int) -> HttpResponse:
    """Change its day."""
    told = _told(DayForm(request.POST), _("Give the day on which it is expected now."))
    day = told["expected_on"]
    tyre_delivery_date(user=here.user, site=here.site, delivery_id=delivery, expected_on=day)
    return _back(here, told["size"])


@require_POST
@site_page(Action.SPARES_CHANGE)
def receive(request: HttpRequest, here: Here, delivery: int) -> HttpResponse:
    """The tyres are here."""
    stock = tyre_delivery_receive(user=here.user, site=here.site, delivery_id=delivery)
    words = _("%(size)s: %(number)s new tyres are in the store now.")
    tell(request, words % {"size": stock.size, "number": stock.on_hand})
    return _back(here, stock.size)


@require_POST
@site_page(Action.SPARES_CHANGE)
def call_off(request: HttpRequest, here: Here, delivery: int) -> HttpResponse:
    """It will not come."""
    tyre_delivery_call_off(user=here.user, site=here.site, delivery_id=delivery)
    return _back(here, request.POST.get("size", ""))


@require_POST
@site_page(Action.SPARES_CHANGE)
def assume(request: HttpRequest, here: Here) -> HttpResponse:
    """State how long a tyre of the size stays on."""
    told = _told(AssumptionForm(request.POST), _("Give the hours, 10 or more, and where they are from."))
    row = removal_assumption_set(
        user=here.user, site=here.site, size_as_written=told["size"], hours=told["hours"],
        reason=told["reason"],
    )  # fmt: skip
    tell(request, _("Assumed from now on: %(assumption)s.") % {"assumption": row})
    return _back(here, row.size)


def _back(here: Here, size: str) -> HttpResponse:
    return redirect(f"{reverse('spare_size', args=[here.site.code])}?{urlencode({'size': size})}")


def _told(form: forms.Form, fault: str) -> dict[str, Any]:
    if not form.is_valid():
        raise InvalidValueError(fault)
    return form.cleaned_data

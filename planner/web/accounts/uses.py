"""Recording what a repair took: meter readings, trips, inspections and lots of material."""

from decimal import Decimal
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from planner.domain.errors import UserError
from planner.domain.permissions import Action
from planner.selectors.accounts.uses import usable_lots, use_list
from planner.selectors.accounts.words import MaterialLot
from planner.selectors.nouns import WorkOrder
from planner.selectors.telling import in_words
from planner.selectors.work_orders import work_order_get
from planner.services.accounts.costs import use_record
from planner.services.accounts.meters import meter_record
from planner.services.materials import material_use_record
from planner.web.here import Here, show, site_page, tell

_LEAST = Decimal("0.001")


class MeterForm(forms.Form):
    """The bay's meter before and after."""

    before = forms.DecimalField(label=gettext_lazy("Meter before [kWh]"), min_value=0, decimal_places=3)
    after = forms.DecimalField(label=gettext_lazy("Meter after [kWh]"), min_value=0, decimal_places=3)

    def record(self, here: Here, order: WorkOrder) -> None:
        """Put it on record."""
        told = self.cleaned_data
        meter_record(user=here.user, work_order=order, before=told["before"], after=told["after"])


class CountForm(forms.Form):
    """Trips or inspections."""

    kind = forms.ChoiceField(
        label=gettext_lazy("What"),
        choices=[("transport", gettext_lazy("trips")), ("inspection", gettext_lazy("inspections"))],
    )
    quantity = forms.IntegerField(label=gettext_lazy("How many"), min_value=1, max_value=100)
    evidence = forms.CharField(label=gettext_lazy("Note"), max_length=120, required=False)

    def record(self, here: Here, order: WorkOrder) -> None:
        """Put it on record."""
        told = self.cleaned_data
        use_record(
            user=here.user, work_order=order, kind=told["kind"], quantity=Decimal(told["quantity"]),
            evidence=told["evidence"],
        )  # fmt: skip


class LotForm(forms.Form):
    """A quantity from a lot of the store."""

    lot = forms.TypedChoiceField(label=gettext_lazy("Lot"), coerce=int)
    quantity = forms.DecimalField(
        label=gettext_lazy("Quantity, in the unit of the lot"),
        min_value=_LEAST,
        max_digits=9,
        decimal_places=3,
    )

    def __init__(self, *args: Any, lots: list[MaterialLot], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.lots = {lot.pk: lot for lot in lots}
        field = self.fields["lot"]
        assert isinstance(field, forms.ChoiceField)  # noqa: S101 (for the type)
        field.choices = [
            (lot.pk, f"{lot.material.name} ({lot.material.unit}), {lot.code}, {lot.expires_on:%d %b %Y}")
            for lot in lots
        ]

    def record(self, here: Here, order: WorkOrder) -> None:
        """Put it on record."""
        told = self.cleaned_data
        lot = self.lots[told["lot"]]
        material_use_record(user=here.user, lot=lot, work_order=order, quantity=told["quantity"])


UseForm = MeterForm | CountForm | LotForm


@site_page(Action.SITE_READ)
def uses(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """What is on record, and a form for each way in which something is used."""
    order = work_order_get(user=here.user, site=here.site, number=number)
    sent = request.POST.get("form", "") if request.method == "POST" else ""
    forms_shown = _forms(request, here, sent)
    if sent in forms_shown and _recorded(here, order, forms_shown[sent]):
        tell(request, _("It is on record for %(order)s.") % {"order": order})
        return redirect("work_order_use", here.site.code, number)
    return show(
        request, here, "accounts/uses.html", "queue", order=order, forms=forms_shown,
        rows=use_list(user=here.user, work_order=order),
    )  # fmt: skip


def _forms(request: HttpRequest, here: Here, sent: str) -> dict[str, UseForm]:
    """The forms by name, the sent one filled; none for who records no work."""
    if not here.allows(Action.WORK_RECORD):
        return {}
    data = {name: request.POST if name == sent else None for name in ("meter", "count", "lot")}
    return {
        "meter": MeterForm(data["meter"], prefix="meter"),
        "count": CountForm(data["count"], prefix="count"),
        "lot": LotForm(data["lot"], prefix="lot", lots=usable_lots(user=here.user, site=here.site)),
    }


def _recorded(here: Here, order: WorkOrder, form: UseForm) -> bool:
    """Whether it was put on record; the reason stands on the form where it was not."""
    if not form.is_valid():
        return False
    try:
        form.record(here, order)
    except UserError as fault:
        form.add_error(None, in_words(fault))
        return False
    return True

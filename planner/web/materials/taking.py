"""Taking material from a lot for a repair."""

from collections.abc import Sequence
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
from planner.selectors.material_stock import LotState, LotStock, MaterialStock, lot_get, material_stock_list
from planner.selectors.nouns import WorkOrder
from planner.selectors.work_orders import work_order_get, work_order_list
from planner.services.materials import material_use_record
from planner.web.here import Here, site_page, tell


class TakeForm(forms.Form):
    """Which lot, for which order, how much. What has expired is not offered, and refused if sent."""

    lot = forms.TypedChoiceField(label=gettext_lazy("Lot"), coerce=int)
    order = forms.TypedChoiceField(label=gettext_lazy("For"), coerce=int)
    quantity = forms.DecimalField(
        label=gettext_lazy("Quantity"), min_value=0, max_digits=9, decimal_places=3,
        help_text=gettext_lazy("In the material's unit."),
    )  # fmt: skip

    def __init__(self, stock: Sequence[MaterialStock], orders: Sequence[WorkOrder], *args: Any) -> None:
        super().__init__(*args)
        self.auto_id = "take-%s"
        self.fields["lot"].choices = [  # type: ignore[attr-defined]
            (each.lot.pk, _lot_words(each))
            for material in stock
            for each in material.lots
            if each.state not in (LotState.EMPTY, LotState.EXPIRED)
        ]
        self.fields["order"].choices = [  # type: ignore[attr-defined]
            (order.number, f"{order.code} · {order.tyre.serial}") for order in orders
        ]


def _lot_words(stock: LotStock) -> str:
    material = stock.lot.material
    return f"{material} {stock.lot.code}: {stock.left.normalize():f} {material.unit} left"


@require_POST
@site_page(Action.WORK_RECORD)
def take(request: HttpRequest, here: Here) -> HttpResponse:
    """Record what a repair takes; a lot past its date is refused."""
    stock = material_stock_list(user=here.user, site=here.site, today=timezone.localdate())
    form = TakeForm(stock, list(work_order_list(user=here.user, site=here.site)), request.POST)
    if not form.is_valid():
        raise InvalidValueError(_("Choose a lot that is not expired, an order, and how much is taken."))
    told = form.cleaned_data
    use = material_use_record(
        user=here.user,
        lot=lot_get(user=here.user, site=here.site, lot_id=told["lot"]),
        work_order=work_order_get(user=here.user, site=here.site, number=told["order"]),
        quantity=told["quantity"],
    )
    tell(request, _("Recorded: %(use)s.") % {"use": use})
    return redirect("materials", here.site.code)

"""The store of repair materials."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from planner.domain.permissions import Action
from planner.selectors.material_stock import LotState, material_stock_list
from planner.selectors.work_orders import work_order_list
from planner.web.here import Here, show, site_page
from planner.web.materials.receiving import ReceiveForm
from planner.web.materials.taking import TakeForm


@site_page(Action.SITE_READ)
def materials(request: HttpRequest, here: Here) -> HttpResponse:
    """Every material with its lots, and what a person should see to first."""
    stock = material_stock_list(user=here.user, site=here.site, today=timezone.localdate())
    lots = [lot for each in stock for lot in each.lots]
    return show(
        request, here, "materials/materials.html", "materials", stock=stock,
        short=[each for each in stock if each.short],
        expired=[lot for lot in lots if lot.state is LotState.EXPIRED],
        near=[lot for lot in lots if lot.state is LotState.NEAR],
        take=TakeForm(stock, list(work_order_list(user=here.user, site=here.site))),
        receive=ReceiveForm([each.material for each in stock]),
    )  # fmt: skip

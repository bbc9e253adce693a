"""Putting a delivery on file: the lot with the maker's date."""

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
from planner.selectors.material_stock import material_stock_list
from planner.selectors.nouns import Material
from planner.services.nouns import noun_add
from planner.web.here import Here, site_page, tell


class ReceiveForm(forms.Form):
    """Material, lot, the maker's date, how much."""

    material = forms.TypedChoiceField(label=gettext_lazy("Material"), coerce=int)
    code = forms.CharField(label=gettext_lazy("Lot"), max_length=60)
    expires_on = forms.DateField(
        label=gettext_lazy("Expires"), widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )
    quantity = forms.DecimalField(label=gettext_lazy("Quantity"), min_value=0, max_digits=9, decimal_places=3)

    def __init__(self, materials: Sequence[Material], *args: Any) -> None:
        super().__init__(*args)
        self.auto_id = "receive-%s"
        choices = [(material.pk, f"{material} ({material.unit})") for material in materials]
        self.fields["material"].choices = choices  # type: ignore[attr-defined]


@require_POST
@site_page(Action.LOT_RECEIVE)
def receive(request: HttpRequest, here: Here) -> HttpResponse:
    """Put the lot on file."""
    today = timezone.localdate()
    materials = {
        each.material.pk: each.material
        for each in material_stock_list(user=here.user, site=here.site, today=today)
    }
    form = ReceiveForm(list(materials.values()), request.POST)
    if not form.is_valid():
        raise InvalidValueError(_("Give material, lot, the maker's date and how much came."))
    told = form.cleaned_data
    values = {**told, "material": materials[told["material"]], "received_on": today}
    lot = noun_add(user=here.user, site=here.site, noun="materiallot", values=values)
    tell(request, _("On file: %(lot)s.") % {"lot": lot})
    return redirect("materials", here.site.code)

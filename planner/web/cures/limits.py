"""The limits of cures that the site, its sets and its materials have of their own."""

from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST

from planner.domain.cure_limits import KINDS, CureLimit, ReleasePlace
from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.selectors.cure_limits import cure_limit_list, cure_limits_get, limit_words
from planner.selectors.material_stock import material_list
from planner.selectors.nouns import HeaterSet, Material
from planner.selectors.reading_units import limit_typed, limit_unit
from planner.selectors.resources import heater_set_list
from planner.selectors.telling import in_words
from planner.services.nouns import noun_add, noun_remove
from planner.web.here import Here, show, site_page, tell


class LimitForm(forms.Form):
    """One limit, for what it holds, and who says so."""

    limit = forms.ChoiceField(
        label=gettext_lazy("Limit"),
    )
    value = forms.FloatField(label=gettext_lazy("Figure"), help_text=gettext_lazy("In the unit beside it."))
    place = forms.ChoiceField(
        label=gettext_lazy("Measured at"), required=False,
        choices=lambda: [
            ("", _("– (release only)")),
            *((one.value, in_words(one.words)) for one in ReleasePlace),
        ],
    )  # fmt: skip
    material: "forms.ModelChoiceField[Material]" = forms.ModelChoiceField(
        label=gettext_lazy("Material"), queryset=None, required=False, empty_label=gettext_lazy("any")
    )
    heater_set: "forms.ModelChoiceField[HeaterSet]" = forms.ModelChoiceField(
        label=gettext_lazy("Heater set"), queryset=None, required=False, empty_label=gettext_lazy("any")
    )
    source = forms.CharField(
        label=gettext_lazy("Who says so"), max_length=120,
        help_text=gettext_lazy("The maker's sheet and its edition, or the site's procedure."),
    )  # fmt: skip

    def __init__(self, here: Here, *args: Any, **named: Any) -> None:
        super().__init__(*args, **named)
        self.auto_id, self.reading = "limit-%s", here.reading
        self.fields["limit"].choices = [  # type: ignore[attr-defined]
            (limit.value, f"{in_words(kind.words)} ({limit_unit(limit, here.reading)})")
            for limit, kind in KINDS.items()
        ]
        self.fields["material"].queryset = material_list(user=here.user, site=here.site)  # type: ignore[attr-defined]
        self.fields["heater_set"].queryset = heater_set_list(user=here.user, site=here.site)  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """The figure in the limit's own unit."""
        told = super().clean() or {}
        if "limit" in told and "value" in told:
            try:
                told["value"] = limit_typed(CureLimit(told["limit"]), told["value"], self.reading)
            except InvalidValueError as fault:
                self.add_error("value", in_words(fault))
        return told


@site_page(Action.SITE_READ)
def limits(request: HttpRequest, here: Here) -> HttpResponse:
    """What holds on the site, what its sets and materials have of their own, and a form for one more."""
    return _page(request, here, LimitForm(here))


@require_POST
@site_page(Action.ROUTE_CHANGE)
def add(request: HttpRequest, here: Here) -> HttpResponse:
    """Put a limit on file."""
    form = LimitForm(here, request.POST)
    if form.is_valid():
        try:
            noun_add(user=here.user, site=here.site, noun="curelimitrow", values=form.cleaned_data)
        except InvalidValueError as fault:
            form.add_error(None, in_words(fault))
        else:
            tell(request, _("On file. Plans and verdicts from now on keep to it; what was judged stays."))
            return redirect("cure_limits", here.site.code)
    return _page(request, here, form)


@require_POST
@site_page(Action.ROUTE_CHANGE)
def remove(request: HttpRequest, here: Here, row_id: int) -> HttpResponse:
    """Take a limit away; the wider one, or common practice, holds again."""
    why = request.POST.get("why", "").strip()
    if not why:
        raise InvalidValueError(_("Say why the limit no longer holds."))
    noun_remove(user=here.user, site=here.site, noun="curelimitrow", row_id=row_id, why=why)
    tell(request, _("Taken away. The wider limit, or common practice, holds again."))
    return redirect("cure_limits", here.site.code)


def _page(request: HttpRequest, here: Here, form: LimitForm) -> HttpResponse:
    held = limit_words(cure_limits_get(user=here.user, site=here.site))
    rows = cure_limit_list(user=here.user, site=here.site)
    return show(request, here, "cures/limits.html", "resources", held=held, rows=rows, form=form)

"""The units and the language that somebody reads in."""

from django import forms
from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from planner.domain.units import PRESSURE_UNITS, TEMPERATURE_UNITS
from planner.selectors.preferences import preference_get
from planner.services.preferences import preference_set
from planner.web.here import signed_in_user

_AS_SITE = ("", gettext_lazy("as the site has it"))


class PreferenceForm(forms.Form):
    """Units and language; left open, the site's."""

    temperature_unit = forms.ChoiceField(
        label=gettext_lazy("Temperatures in"), required=False,
        choices=[_AS_SITE, *((unit, unit) for unit in TEMPERATURE_UNITS)],
    )  # fmt: skip
    pressure_unit = forms.ChoiceField(
        label=gettext_lazy("Pressures in"), required=False,
        choices=[_AS_SITE, *((unit, unit) for unit in PRESSURE_UNITS)],
    )  # fmt: skip
    language = forms.ChoiceField(
        label=gettext_lazy("Language"), required=False, choices=[_AS_SITE, *settings.LANGUAGES]
    )


@login_required
def preferences(request: HttpRequest) -> HttpResponse:
    """The form; gauges are read and shown in these units from then on."""
    user = signed_in_user(request)
    kept = preference_get(user=user)
    initial = {name: getattr(kept, name) for name in PreferenceForm.base_fields}
    form = PreferenceForm(request.POST or None, initial=initial)
    if request.method == "POST" and form.is_valid():
        preference_set(user=user, **form.cleaned_data)
        messages.success(request, _("Kept. Every page is written like this now."))
        return redirect("preferences")
    return render(request, "account/preferences.html", {"form": form})

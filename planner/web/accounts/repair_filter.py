"""What the reader wants to see of the booked repairs."""

from datetime import date

from django import forms
from django.utils.translation import gettext_lazy as _

from planner.domain.injury import Zone
from planner.selectors.accounts.repairs import RepairFilter

_ENDS = {"failed": True, "held": False}


class RepairFilterForm(forms.Form):
    """Month, zone, size, outcome and words to look for; nonsense in an address filters nothing."""

    search = forms.CharField(label=_("Find"), required=False, max_length=80)
    month = forms.DateField(
        label=_("Month"), required=False, input_formats=["%Y-%m"],
        widget=forms.DateInput(attrs={"type": "month"}, format="%Y-%m"),
    )  # fmt: skip
    zone = forms.ChoiceField(
        label=_("Zone"),
        required=False,
        choices=[("", _("any")), *((zone.value, zone.value) for zone in Zone)],
    )
    size = forms.CharField(label=_("Size"), required=False, max_length=24)
    ended = forms.ChoiceField(
        label=_("Outcome"),
        required=False,
        choices=[("", _("any")), ("held", _("repaired")), ("failed", _("failed"))],
    )

    cause = forms.CharField(label=_("Cause of a variance"), required=False, max_length=20)

    def wanted(self) -> RepairFilter:
        """What was asked for, as far as it makes sense."""
        if not self.is_bound:
            return RepairFilter()
        self.is_valid()
        told = self.cleaned_data
        month: date | None = told.get("month")
        return RepairFilter(
            month=month,
            zone=told.get("zone", ""),
            size=told.get("size", ""),
            failed=_ENDS.get(told.get("ended", "")),
            search=told.get("search", ""),
            cause=told.get("cause", ""),
        )

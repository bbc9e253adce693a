"""What a supervisor chooses before a plan is built."""

from datetime import date, datetime, time, timedelta
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from planner.selectors.nouns import Site

_SECONDS = ((10, _("10 seconds")), (30, _("30 seconds")), (60, _("1 minute")), (180, _("3 minutes")))


class BuildForm(forms.Form):
    """The days to plan and how long to look for a better plan."""

    first_day = forms.DateField(
        label=_("From"), widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )
    days = forms.IntegerField(label=_("Days"), min_value=1, max_value=28)
    seconds = forms.TypedChoiceField(label=_("Search for"), coerce=int, choices=_SECONDS, initial=30)

    def __init__(self, *args: Any, site: Site, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["first_day"].initial = timezone.localdate
        self.fields["days"].initial = site.horizon_days

    def horizon(self, now: datetime) -> tuple[datetime, datetime]:
        """From the first day's midnight, or from now on (the next full minute) where that is past."""
        first: date = self.cleaned_data["first_day"]
        midnight = datetime.combine(first, time(), tzinfo=timezone.get_current_timezone())
        end = datetime.combine(
            first + timedelta(days=self.cleaned_data["days"]), time(), tzinfo=midnight.tzinfo
        )
        whole = now.replace(second=0, microsecond=0) + timedelta(minutes=1)
        return max(midnight, whole.astimezone(midnight.tzinfo)), end

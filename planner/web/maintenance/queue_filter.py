"""What the reader wants to see of the queue."""

from collections.abc import Collection

from django import forms
from django.utils.translation import gettext_lazy as _

from planner.domain.injury import Zone
from planner.domain.states import OPEN_WORK, WorkOrderState
from planner.selectors.nouns import CHOICE_WORDS


class QueueFilter(forms.Form):
    """State, zone, size, words to look for and the order of the rows; all may be left out."""

    search = forms.CharField(
        label=_("Find"), required=False, max_length=80,
        widget=forms.TextInput(attrs={"type": "search", "placeholder": _("serial, machine")}),
    )  # fmt: skip
    state = forms.ChoiceField(
        label=_("State"), required=False,
        choices=[("", _("all open")), *((each.value, CHOICE_WORDS[each.value]) for each in WorkOrderState)],
    )  # fmt: skip
    zone = forms.ChoiceField(
        label=_("Zone"),
        required=False,
        choices=[("", _("any")), *((zone.value, CHOICE_WORDS[zone.value]) for zone in Zone)],
    )
    size = forms.CharField(label=_("Size"), required=False, max_length=24)
    sort = forms.ChoiceField(
        label=_("Order"), required=False,
        choices=[
            ("needed", _("needed first")), ("priority", _("weightiest first")),
            ("received", _("newest first")), ("number", _("by number")),
        ],
    )  # fmt: skip

    def wanted(self) -> dict[str, str]:
        """What was asked for, as far as it makes sense; nonsense in an address filters nothing."""
        if not self.is_bound:
            return {}
        self.is_valid()
        return {name: value for name, value in self.cleaned_data.items() if value}

    def words(self) -> str:
        """What was asked for, in words; empty where all open work is shown."""
        asked = {name: value for name, value in self.wanted().items() if name != "sort"}
        return ", ".join(str(CHOICE_WORDS.get(value, value)) for value in asked.values())

    def states(self) -> Collection[str]:
        """The states to show."""
        wanted = self.wanted().get("state")
        return [wanted] if wanted else OPEN_WORK

    def is_used(self) -> bool:
        """Whether the rows are fewer than all open work because of the reader's own filter."""
        return bool(self.wanted().keys() - {"sort"})

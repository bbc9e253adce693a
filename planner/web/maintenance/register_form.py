"""The form for a damaged tyre: what can be read and measured beside it in under a minute."""

from datetime import datetime, time, timedelta
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from planner.domain.injury import Injury, Zone
from planner.selectors.fleet import machine_list
from planner.selectors.nouns import CHOICE_WORDS, Machine
from planner.services.damage_registration import DamageReport
from planner.web.here import Here


def _millimetres(label: Any, largest: int) -> forms.IntegerField:
    return forms.IntegerField(
        label=label, min_value=1, max_value=largest, widget=forms.NumberInput(attrs={"inputmode": "numeric"})
    )


def usual_need(now: datetime) -> datetime:
    """Three days on, at the end of a day: a start that the planner changes where it matters."""
    return datetime.combine(timezone.localdate(now) + timedelta(days=3), time(18, 0))


class RegisterForm(forms.Form):
    """Serial, size, zone, three lengths, and when it is needed."""

    serial = forms.CharField(
        label=_("Serial"), max_length=40, help_text=_("As branded on the tyre."),
        widget=forms.TextInput(attrs={"autofocus": True, "autocomplete": "off"}),
    )  # fmt: skip
    size_as_written = forms.CharField(
        label=_("Size"),
        max_length=60,
        help_text=_("As written on the sidewall, such as 27.00R49 or 26.5-25."),
    )
    machine: "forms.ModelChoiceField[Machine]" = forms.ModelChoiceField(
        label=_("Machine"), queryset=None, required=False, empty_label=_("none, or not known"),
        help_text=_("Its weight sets the tyre's place in the queue."),
    )  # fmt: skip
    zone = forms.ChoiceField(
        label=_("Where is it hurt?"), choices=[(zone.value, CHOICE_WORDS[zone.value]) for zone in Zone],
        widget=forms.RadioSelect,
    )  # fmt: skip
    length_mm = _millimetres(_("Length (mm)"), 5000)
    width_mm = _millimetres(_("Width (mm)"), 5000)
    depth_mm = _millimetres(_("Depth (mm)"), 500)
    plies = forms.IntegerField(
        label=_("Plies cut"), min_value=0, max_value=100, initial=0, help_text=_("0 where none is seen.")
    )
    needed_by = forms.DateTimeField(
        label=_("Needed by"), initial=lambda: usual_need(timezone.now()),
        widget=forms.DateTimeInput(attrs={"type": "datetime-local"}, format="%Y-%m-%dT%H:%M"),
    )  # fmt: skip
    photo = forms.FileField(
        label=_("Photo"), required=False,
        help_text=_("Only the picture is kept: place, time and camera are left out."),
        widget=forms.ClearableFileInput(attrs={"accept": "image/*"}),
    )  # fmt: skip
    note = forms.CharField(label=_("Note"), max_length=300, required=False)
    demounted = forms.BooleanField(
        label=_("The tyre is off its machine, deflated, and has seen no heat on the machine"),
        error_messages={
            "required": _(
                "Only a demounted, deflated tyre may be repaired. One that has seen heat on the machine can "
                "burst up to 24 hours later: keep people away, and put it in quarantine first."
            )
        },
    )

    def __init__(self, *args: Any, here: Here, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        machines = self.fields["machine"]
        assert isinstance(machines, forms.ModelChoiceField)  # noqa: S101 (for the type)
        machines.queryset = machine_list(user=here.user, site=here.site)

    def report(self) -> DamageReport:
        """What was told, once the form is valid; InvalidValueError where the injury can't be."""
        told = self.cleaned_data
        return DamageReport(
            serial=told["serial"].strip(),
            size_as_written=told["size_as_written"],
            injury=Injury(
                zone=Zone(told["zone"]), length_mm=told["length_mm"], width_mm=told["width_mm"],
                depth_mm=told["depth_mm"], plies=told["plies"],
            ),
            needed_by=told["needed_by"],
            machine_id=told["machine"].pk if told["machine"] else None,
            demounted=told["demounted"],
            note=told["note"],
            photo=told["photo"].read() if told["photo"] else None,
        )  # fmt: skip

"""The form of any table of the site, from its model: related rows only of the same site."""

from typing import Any

from django import forms
from django.db import models
from django.utils.text import capfirst

from planner.selectors.kept_nouns import noun_model, noun_rows
from planner.selectors.memberships import member_user_list
from planner.selectors.nouns import Site, User
from planner.selectors.telling import in_words
from planner.services.site_tables.breaks import BREAKS_HELP, breaks_read, breaks_words
from planner.services.site_tables.tables import RULES, SiteTable
from planner.web.administration.labels import LABELS

_INPUTS: dict[type[forms.Field], tuple[type[forms.Widget], str, str]] = {
    forms.DateField: (forms.DateInput, "date", "%Y-%m-%d"),
    forms.DateTimeField: (forms.DateTimeInput, "datetime-local", "%Y-%m-%dT%H:%M"),
    forms.TimeField: (forms.TimeInput, "time", "%H:%M"),
}


class KeptForm(forms.ModelForm):  # type: ignore[type-arg]
    """Fields of one row; saving is the services' business."""

    def __init__(self, *args: Any, site: Site, **more: Any) -> None:
        super().__init__(*args, **more)
        for name, field in self.fields.items():
            field.label = str(LABELS.get(name, field.label))
            if field.help_text:
                field.help_text = capfirst(str(field.help_text))
            if isinstance(field, forms.ModelChoiceField):
                field.queryset = _choices(field.queryset, site)

    def values(self) -> dict[str, Any]:
        """What was filled in, by field."""
        return {
            name: list(value) if isinstance(value, models.QuerySet) else value
            for name, value in self.cleaned_data.items()
        }

    def validate_unique(self) -> None:
        """The services check the whole row with its site, and say it in their words."""

    def validate_constraints(self) -> None:
        """The same."""


class PatternForm(KeptForm):
    """A roster pattern with its breaks in one line."""

    breaks = forms.CharField(required=False, max_length=200, help_text=capfirst(BREAKS_HELP))

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        if self.instance.pk:
            self.fields["breaks"].initial = breaks_words(self.instance.breaks.all())

    def clean_breaks(self) -> str:
        """The line, where it can be read."""
        text: str = self.cleaned_data["breaks"]
        try:
            breaks_read(text)
        except ValueError as fault:
            raise forms.ValidationError(in_words(fault)) from fault
        return text


def table_form(
    table: SiteTable, site: Site, data: Any = None, row: models.Model | None = None, initial: Any = None
) -> KeptForm:
    """The form of a new row, or of one on file."""
    model = noun_model(table.noun)
    names = [name for name in table.fields if not (table.noun == "sitemembership" and name == "user")]
    kind = PatternForm if table.breaks else KeptForm
    made: Any = forms.modelform_factory(model, form=kind, fields=names, formfield_callback=_field)
    form: KeptForm = made(data, instance=row, site=site, initial=initial)
    return form


def rules_form(site: Site, data: Any = None) -> KeptForm:
    """The form of the site's own rules."""
    made: Any = forms.modelform_factory(Site, form=KeptForm, fields=list(RULES), formfield_callback=_field)
    form: KeptForm = made(data, instance=site, site=site)
    return form


def _field(field: Any, **more: Any) -> forms.Field | None:
    """A model's form field with the browser's own picker for days and times."""
    made: forms.Field | None = field.formfield(**more)
    told = _INPUTS.get(type(made)) if made is not None else None
    if made is not None and told is not None:
        widget, kind, pattern = told
        made.widget = widget(attrs={"type": kind}, format=pattern)  # type: ignore[call-arg]
    return made


def _choices(rows: Any, site: Site) -> Any:
    if rows.model is User:
        return member_user_list(site=site)
    return noun_rows(model=rows.model, site=site)

"""Assumptions as dated versions: proposed, weighed by their effect, accepted or refused."""

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST

from planner.domain.errors import NotFoundError, UserError
from planner.domain.permissions import Action
from planner.selectors.accounts.assumptions import (
    assumption_effects,
    assumption_get,
    assumption_list,
    assumption_units,
    open_tyre_count,
)
from planner.selectors.accounts.books import site_day
from planner.selectors.telling import in_words
from planner.services.accounts.assumptions import assumption_accept, assumption_propose, assumption_refuse
from planner.web.here import Here, show, site_page, tell


class ProposalForm(forms.Form):
    """An assumption, its new value, the day from which it holds, and why."""

    name = forms.ChoiceField(label=gettext_lazy("Assumption"))
    value = forms.DecimalField(label=gettext_lazy("Value"), max_digits=16, decimal_places=6)
    effective_from = forms.DateField(
        label=gettext_lazy("Holds from"), widget=forms.DateInput(attrs={"type": "date"})
    )
    reason = forms.CharField(label=gettext_lazy("Reason"), max_length=300)

    def __init__(self, *args: object, here: Here, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        names = self.fields["name"]
        assert isinstance(names, forms.ChoiceField)  # noqa: S101 (for the type)
        units = assumption_units(here.site)
        names.choices = [(name.value, f"{name} ({unit})") for name, unit in units.items()]


@site_page(Action.MONEY_READ)
def assumptions(request: HttpRequest, here: Here) -> HttpResponse:
    """Every version on file, and the form for a new one."""
    may_change = here.allows(Action.MONEY_CHANGE)
    initial = {"name": request.GET.get("name"), "effective_from": site_day(here.site)}
    form = ProposalForm(request.POST or None, here=here, initial=initial)
    if request.method == "POST" and may_change and form.is_valid():
        proposed = _proposed(here, form)
        if proposed is not None:
            return redirect("accounts_assumption", here.site.code, proposed)
    rows = list(assumption_list(user=here.user, site=here.site))
    units = {name.value: unit for name, unit in assumption_units(here.site).items()}
    versions = [(row, units[row.name]) for row in rows]
    accepted = {row.name for row in rows if row.state == "accepted"}
    return show(
        request, here, "accounts/assumptions.html", "accounts", versions=versions, form=form,
        missing=[name for name in units if name not in accepted], may_change=may_change,
    )  # fmt: skip


@site_page(Action.MONEY_READ)
def assumption(request: HttpRequest, here: Here, pk: int) -> HttpResponse:
    """One version, and what it would change for the open tyres."""
    row = assumption_get(user=here.user, site=here.site, pk=pk)
    effects = assumption_effects(user=here.user, assumption=row) if row.state == "proposed" else []
    return show(
        request, here, "accounts/assumption.html", "accounts", row=row, effects=effects,
        turned=sum(effect.turns for effect in effects), may_change=here.allows(Action.MONEY_CHANGE),
        open_tyres=open_tyre_count(user=here.user, site=here.site),
    )  # fmt: skip


@require_POST
@site_page(Action.MONEY_CHANGE)
def decide(request: HttpRequest, here: Here, pk: int, decision: str) -> HttpResponse:
    """Accept or refuse a proposed version."""
    decisions = {"accept": assumption_accept, "refuse": assumption_refuse}
    if decision not in decisions:
        raise NotFoundError(_("There is no such decision."))
    row = assumption_get(user=here.user, site=here.site, pk=pk)
    decisions[decision](user=here.user, assumption=row, why=request.POST.get("why", ""))
    tell(request, _("%(assumption)s: %(state)s.") % {"assumption": row, "state": row.state})
    return redirect("accounts_assumptions", here.site.code)


def _proposed(here: Here, form: ProposalForm) -> int | None:
    """The new version's key; None where it was refused, with the reason on the form."""
    told = form.cleaned_data
    name = next(name for name in assumption_units(here.site) if name.value == told["name"])
    try:
        row = assumption_propose(
            user=here.user, site=here.site, name=name, value=told["value"],
            effective_from=told["effective_from"], reason=told["reason"],
        )  # fmt: skip
    except UserError as fault:
        form.add_error(None, in_words(fault))
        return None
    return row.pk

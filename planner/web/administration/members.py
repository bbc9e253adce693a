"""Users and roles: somebody new, and a way for them to choose a password."""

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST

from planner.domain.errors import UserError
from planner.domain.permissions import Action, Role
from planner.selectors.kept_nouns import noun_get
from planner.selectors.nouns import SiteMembership
from planner.selectors.telling import in_words
from planner.services.members import member_add, password_link_parts
from planner.web.here import Here, show, site_page, tell


class MemberForm(forms.Form):
    """A name to sign in with, and a role."""

    username = forms.CharField(
        label=gettext_lazy("Name to sign in with"), max_length=150,
        help_text=gettext_lazy("Who is known already only gets the role."),
    )  # fmt: skip
    role = forms.ChoiceField(label=gettext_lazy("Role"), choices=[(role.value, role.value) for role in Role])
    first_name = forms.CharField(label=gettext_lazy("First name"), max_length=150, required=False)
    last_name = forms.CharField(label=gettext_lazy("Last name"), max_length=150, required=False)
    email = forms.EmailField(label=gettext_lazy("E-mail"), required=False)


@site_page(Action.MEMBER_CHANGE)
def new_member(request: HttpRequest, here: Here) -> HttpResponse:
    """The form; by POST, the member with a way to choose a password."""
    form = MemberForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            member = member_add(user=here.user, site=here.site, **form.cleaned_data)
        except UserError as fault:
            form.add_error(None, in_words(fault))
        else:
            tell(request, _("%(who)s belongs to the site now.") % {"who": member.user})
            return redirect("table_sitemembership_row", here.site.code, member.pk)
    return show(request, here, "administration/member.html", "administration", form=form)


@require_POST
@site_page(Action.MEMBER_CHANGE)
def password_link(request: HttpRequest, here: Here, row: int) -> HttpResponse:
    """An address where the member chooses a password: shown once, to be handed over in person."""
    member = noun_get(user=here.user, site=here.site, noun="sitemembership", row_id=row)
    assert isinstance(member, SiteMembership)  # noqa: S101 - the noun says so
    uid, token = password_link_parts(user=here.user, site=here.site, member=member)
    address = request.build_absolute_uri(reverse("password_choose", args=[uid, token]))
    return show(
        request, here, "administration/password_link.html", "administration", member=member, address=address
    )

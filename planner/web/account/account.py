"""The page of one's own account."""

from django import forms
from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST

from planner.domain.errors import UserError
from planner.selectors.one_time_codes import has_codes, must_have_codes
from planner.selectors.telling import in_words
from planner.services.own_account import password_change
from planner.services.sessions import sessions_end
from planner.web.here import signed_in_user


class PasswordForm(forms.Form):
    """The password of now and the next one."""

    current = forms.CharField(
        label=gettext_lazy("Your password"), strip=False, max_length=1000,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )  # fmt: skip
    new = forms.CharField(
        label=gettext_lazy("New password"), strip=False, max_length=1000,
        help_text=gettext_lazy("At least 8 characters. Several words are easier to keep than one."),
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )  # fmt: skip


@login_required
def account(request: HttpRequest) -> HttpResponse:
    """What can be changed; by POST, the password is."""
    user = signed_in_user(request)
    form = PasswordForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            told = form.cleaned_data
            password_change(user=user, current=told["current"], new=told["new"])
        except UserError as fault:
            form.add_error(None, in_words(fault))
        else:
            update_session_auth_hash(request, user)
            messages.success(request, _("Your password is changed. Everywhere else you are signed out."))
            return redirect("account")
    return render(
        request, "account/account.html",
        {"form": form, "has_codes": has_codes(user=user), "must_have": must_have_codes(user=user)},
    )  # fmt: skip


@require_POST
@login_required
def sign_out_elsewhere(request: HttpRequest) -> HttpResponse:
    """End every other session."""
    user = signed_in_user(request)
    sessions_end(user=user)
    update_session_auth_hash(request, user)
    messages.success(request, _("Everywhere else you are signed out."))
    return redirect("account")

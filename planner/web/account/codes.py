"""One-time codes: set up with a phone, entered after the password, taken away."""

import io
from base64 import b32encode

import segno
from django import forms
from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST

from planner.domain.errors import UserError
from planner.selectors.one_time_codes import CodeDue
from planner.selectors.telling import in_words
from planner.services.one_time_codes import codes_begin, codes_check, codes_confirm, codes_remove
from planner.services.own_account import password_refuse
from planner.web.account.gate import DUE, gate_open
from planner.web.here import signed_in_user

_SETTING_UP = "codes_setting_up"


class CodeForm(forms.Form):
    """Six digits."""

    code = forms.CharField(
        label=gettext_lazy("One-time code"), max_length=12,
        widget=forms.TextInput(
            attrs={"inputmode": "numeric", "autocomplete": "one-time-code", "autofocus": True}
        ),
    )  # fmt: skip


class PasswordAgainForm(forms.Form):
    """Who is signed in shows that it is still them."""

    password = forms.CharField(
        label=gettext_lazy("Your password"), strip=False, max_length=1000,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )  # fmt: skip


@login_required
def enter(request: HttpRequest) -> HttpResponse:
    """Ask for the code that is due after the password."""
    if request.session.get(DUE) != CodeDue.ENTER:
        return redirect("home")
    form = CodeForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            codes_check(user=signed_in_user(request), code=form.cleaned_data["code"])
        except UserError as fault:
            form.add_error("code", in_words(fault))
        else:
            gate_open(request)
            return redirect(_next(request))
    return render(request, "account/code_enter.html", {"form": form})


@sensitive_post_parameters()
@login_required
def set_up(request: HttpRequest) -> HttpResponse:
    """First the password, then the key for the phone and a code that shows that it has it."""
    user = signed_in_user(request)
    if _SETTING_UP not in request.session:
        return _password_asked(request)
    form = CodeForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            codes_confirm(user=user, code=form.cleaned_data["code"])
        except UserError as fault:
            form.add_error("code", in_words(fault))
        else:
            del request.session[_SETTING_UP]
            update_session_auth_hash(request, user)
            gate_open(request)
            messages.success(request, _("From now on you are asked for a code."))
            return redirect("account")
    return render(request, "account/codes_set_up.html", {"form": form, **_key(request)})


@require_POST
@login_required
def remove(request: HttpRequest) -> HttpResponse:
    """Ask for codes no more; by password."""
    user = signed_in_user(request)
    try:
        password_refuse(user=user, password=request.POST.get("password", ""))
    except UserError as fault:
        messages.error(request, in_words(fault))
        return redirect("account")
    codes_remove(user=user)
    update_session_auth_hash(request, user)
    messages.success(request, _("You are asked for codes no more."))
    return redirect("account")


def _password_asked(request: HttpRequest) -> HttpResponse:
    form = PasswordAgainForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        user = signed_in_user(request)
        try:
            password_refuse(user=user, password=form.cleaned_data["password"])
            device = codes_begin(user=user)
        except UserError as fault:
            form.add_error("password", in_words(fault))
        else:
            request.session[_SETTING_UP] = [b32encode(device.bin_key).decode(), device.config_url]
            return redirect("codes_set_up")
    return render(request, "account/codes_password.html", {"form": form})


def _key(request: HttpRequest) -> dict[str, str | SafeString]:
    key, address = request.session[_SETTING_UP]
    drawn = io.BytesIO()
    segno.make(address, micro=False).save(
        drawn, kind="svg", scale=5, xmldecl=False, svgns=False, light="white", nl=False
    )
    # segno writes its own numbers and nothing of what it was given.
    return {"key": key, "drawing": mark_safe(drawn.getvalue().decode())}  # noqa: S308


def _next(request: HttpRequest) -> str:
    asked = request.GET.get("next", "")
    own = url_has_allowed_host_and_scheme(
        asked, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return asked if own else "home"

"""Sign in and out."""

from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.views import LoginView, LogoutView
from django.utils.translation import gettext_lazy as _


class SignInForm(AuthenticationForm):
    """Name and password."""

    error_messages = {  # noqa: RUF012 (Django's own)
        "invalid_login": _("This name and password do not belong together. Mind capitals, and try again."),
        "inactive": _("This account is closed. The site's administrator can open it."),
    }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["username"].label = _("Name")
        self.fields["password"].label = _("Password")
        self.fields["username"].widget = forms.TextInput(
            attrs={"autocomplete": "username", "autocapitalize": "none", "autofocus": True}
        )


class SignIn(LoginView):
    """The only page that a stranger sees."""

    template_name = "entrance/sign_in.html"
    authentication_form = SignInForm
    redirect_authenticated_user = True


class SignOut(LogoutView):
    """Ends the session; by POST only."""

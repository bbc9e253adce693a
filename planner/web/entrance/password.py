"""Choosing a password with an address that the administrator handed over."""

from typing import Any

from django.contrib.auth.views import PasswordResetConfirmView
from django.urls import reverse_lazy
from django.utils.translation import gettext_lazy as _


class PasswordChoose(PasswordResetConfirmView):
    """Works once, for three days."""

    template_name = "entrance/password.html"
    success_url = reverse_lazy("sign_in")

    def get_form(self, *args: Any, **named: Any) -> Any:
        """The two fields, with our labels."""
        form = super().get_form(*args, **named)
        form.fields["new_password1"].label = _("Password")
        form.fields["new_password2"].label = _("The same again")
        return form

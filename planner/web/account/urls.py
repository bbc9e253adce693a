"""Addresses of one's own account."""

from django.urls import path

from planner.web.account import account, codes, preferences

urlpatterns = [
    path("account/", account.account, name="account"),
    path("account/reading/", preferences.preferences, name="preferences"),
    path("account/sign-out-elsewhere/", account.sign_out_elsewhere, name="sign_out_elsewhere"),
    path("account/codes/", codes.set_up, name="codes_set_up"),
    path("account/codes/enter/", codes.enter, name="code_enter"),
    path("account/codes/remove/", codes.remove, name="codes_remove"),
]

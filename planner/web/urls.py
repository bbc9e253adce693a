"""The addresses of the pages: the entrance, then everything under the code of a site."""

from django.urls import include, path

from planner.web.account.urls import urlpatterns as account
from planner.web.accounts.urls import urlpatterns as accounts
from planner.web.administration.urls import urlpatterns as administration
from planner.web.cures.urls import urlpatterns as cures
from planner.web.entrance import password, sign_in, sites, today
from planner.web.feeds.urls import secret_addresses
from planner.web.feeds.urls import urlpatterns as feeds
from planner.web.files.urls import urlpatterns as files
from planner.web.fleet.urls import urlpatterns as fleet
from planner.web.floor.urls import urlpatterns as floor
from planner.web.maintenance.urls import urlpatterns as maintenance
from planner.web.materials.urls import urlpatterns as materials
from planner.web.notices.urls import urlpatterns as notices
from planner.web.record.urls import urlpatterns as record
from planner.web.sheet.urls import urlpatterns as sheet
from planner.web.supervisor.urls import urlpatterns as supervisor

on_site = [
    path("", today.today, name="today"),
    *maintenance,
    *fleet,
    *supervisor,
    *sheet,
    *floor,
    *accounts,
    *administration,
    *cures,
    *record,
    *materials,
    *notices,
    *feeds,
    *files,
]

urlpatterns = [
    path("", sites.home, name="home"),
    path("sign-in/", sign_in.SignIn.as_view(), name="sign_in"),
    path("sign-out/", sign_in.SignOut.as_view(), name="sign_out"),
    *account,
    path("password/<uidb64>/<token>/", password.PasswordChoose.as_view(), name="password_choose"),
    path("sites/", sites.site_choice, name="site_choice"),
    *secret_addresses,
    path("at/<slug:site>/", include(on_site)),
]

"""Addresses of the administrator's pages."""

from django.urls import path

from planner.web.administration import members, overview, sheets
from planner.web.administration.rows import table_urls

urlpatterns = [
    path("site/", overview.overview, name="administration"),
    path("site/rules/", overview.rules, name="site_rules"),
    path("site/sheets/", sheets.sheets, name="site_sheets"),
    path("site/sheets/template/", sheets.template, name="site_template"),
    path("site/sheets/example/", sheets.example, name="site_example"),
    path("site/sheets/export/", sheets.export, name="site_export"),
    path("site/calendar/", overview.calendar, name="roster_calendar"),
    path("site/sitemembership/add/", members.new_member, name="table_sitemembership_add"),
    path("site/sitemembership/<int:row>/password/", members.password_link, name="password_link"),
    *table_urls(),
]

"""Addresses of the accountant's pages."""

from django.urls import path

from planner.web.accounts import assumptions, comparison, entries, imports, lives, month, repairs

urlpatterns = [
    path("accounts/", month.month, name="accounts"),
    path("accounts/month/<int:year>/<int:number>/", month.month, name="accounts_month"),
    path("accounts/month/<int:year>/<int:number>/close/", month.close, name="accounts_close"),
    path("accounts/book/", month.book, name="accounts_book"),
    path("accounts/repairs/", repairs.repairs, name="accounts_repairs"),
    path("accounts/repairs.<slug:kind>", repairs.export, name="accounts_export"),
    path("accounts/repairs/<int:number>/", repairs.repair, name="accounts_repair"),
    path("accounts/compare/", comparison.open_orders, name="accounts_open"),
    path("accounts/compare/<int:number>/", comparison.comparison, name="accounts_comparison"),
    path("accounts/compare/<int:number>/approve/", comparison.approve, name="accounts_approve"),
    path("accounts/compare/<int:number>/book/", comparison.book_again, name="accounts_book_again"),
    path("accounts/lives/", lives.lives, name="accounts_lives"),
    path("accounts/books/", entries.book, name="accounts_books"),
    path("accounts/books/<slug:name>/", entries.book, name="accounts_entries"),
    path("accounts/assumptions/", assumptions.assumptions, name="accounts_assumptions"),
    path("accounts/assumptions/<int:pk>/", assumptions.assumption, name="accounts_assumption"),
    path("accounts/assumptions/<int:pk>/<slug:decision>/", assumptions.decide, name="accounts_decide"),
    path("accounts/import/", imports.imports, name="accounts_import"),
]

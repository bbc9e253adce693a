"""What a form of the pages does, a program can do over the API.

The addresses are walked, so that a new form has to name its operation here.
"""

import inspect
import re
from collections.abc import Iterator

from django.urls import URLPattern

from planner.web.urls import on_site, urlpatterns
from tests.lib.api_schema import operations

FORMS: dict[str, str] = {
    "damage_register": "damage_register",
    "damage_file": "damage_register",
    "damage_measure": "damage_measure",
    "work_order_date": "work_order_date",
    "work_order_decide": "work_order_move",
    "work_order_use": "use_count",
    "machine_hours": "machine_hours_record",
    "machine_fit": "tyre_move",
    "machine_take_off": "tyre_move",
    "plan_build": "plan_build_start",
    "plan_again": "plan_build_start",
    "plan_build_cancel": "plan_build_cancel",
    "plan_publish": "plan_publish",
    "plan_drop": "plan_drop",
    "plan_move": "plan_move",
    "plan_lock": "plan_lock",
    "plan_unlock": "plan_unlock",
    "plan_leave_out": "plan_leave_out",
    "plan_first": "plan_put_first",
    "plan_help_ask": "lever_ask",
    "plan_help_cancel": "lever_cancel",
    "plan_odds_ask": "plan_odds_ask",
    "floor_tap": "stage_run_start",
    "bay_closing": "bay_close",
    "accounts_close": "month_close",
    "accounts_book": "actuals_book",
    "accounts_book_again": "actuals_book",
    "accounts_approve": "spend_approve",
    "accounts_assumptions": "assumption_propose",
    "accounts_decide": "assumption_decide",
    "accounts_import": "import_apply",
    "accounts_books": "import_apply",
    "accounts_entries": "import_apply",
    "site_rules": "site_change",
    "roster_calendar": "shifts_make",
    "table_sitemembership_add": "member_add",
    "cure_log_upload": "cure_log_upload",
    "cure_readings": "cure_readings_upload",
    "cure_reading_add": "gauge_reading_add",
    "cure_reading_correct": "gauge_reading_correct",
    "cure_readings_judge": "gauge_readings_judge",
    "cure_limit_add": "cure_limit_add",
    "cure_limit_remove": "cure_limit_remove",
    "cure_log_look": "cure_log_upload_columns",
    "cure_log_keep": "cure_log_upload_keep",
    "cure_log_put_away": "cure_log_upload_put_away",
    "cure_decide": "cure_decision_sign",
    "repair_inspect": "inspection_record",
    "record_sign": "record_sign",
    "photo_add": "photo_add",
    "material_take": "material_take",
    "lot_receive": "material_lot_add",
    "set_part": "heater_set_part_move",
    "removal_assume": "removal_assume",
    "file_task_cancel": "file_task_cancel",
    "file_task_keep": "books_import_ask",
    "file_repairs_export": "repairs_export_ask",
    "site_sheets": "site_import_ask",
    "delivery_order": "tyre_delivery_order",
    "delivery_date": "tyre_delivery_date",
    "delivery_receive": "tyre_delivery_receive",
    "delivery_call_off": "tyre_delivery_call_off",
}
A_PERSONS_OWN = {
    "account", "preferences", "sign_out_elsewhere", "codes_set_up", "code_enter", "codes_remove",
    "password_link",
    "queue_view_keep", "queue_view_remove", "notices_read", "notice_choice", "notice", "follow", "unfollow",
    "calendar_make", "calendar_stop", "sign_in", "sign_out", "password_choose",
}  # fmt: skip
"""How somebody signs in, reads and is told: theirs alone, and nothing that a program does for a site."""


def forms() -> Iterator[str]:
    """The names of the pages that take what is sent."""
    for pattern in (*urlpatterns, *on_site):
        if not isinstance(pattern, URLPattern):
            continue
        view = inspect.unwrap(pattern.callback)
        if not inspect.isfunction(view):
            continue
        module = inspect.getsource(inspect.getmodule(view))  # type: ignore[arg-type]
        marked = re.search(rf"((?:@.*\n)*)def {view.__name__}\(", module)
        if "POST" in (marked.group(1) if marked else "") + inspect.getsource(view):
            yield str(pattern.name)


def test_each_form_has_an_operation_or_a_reason() -> None:
    found = set(forms())
    assert len(found) > 60
    assert found - set(FORMS) - A_PERSONS_OWN == set(), "name the operation that does the same"


def test_each_operation_that_is_named_exists() -> None:
    assert set(FORMS.values()) <= {each.id for each in operations()}

"""The workbook of a site: into a blank site it is equal, twice it changes nothing, faults leave nothing."""

import io
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook

from planner.domain.errors import InvalidValueError, NotAllowedError
from planner.models import AuditEvent, HeaterSet, PatternBreak, Position, Shift, Site, SiteMembership, User
from planner.selectors.kept_nouns import noun_model, noun_rows
from planner.selectors.plans import plan_content_get
from planner.selectors.site_readiness import site_lack_list
from planner.services.site_tables.book import site_book, site_example_book
from planner.services.site_tables.columns import plain_values, rules_columns, table_columns
from planner.services.site_tables.importing import SiteImport, site_import
from planner.services.site_tables.sheets import sheet_name
from planner.services.site_tables.tables import SITE_TABLES
from tests.lib.mine import Mine, at, mine_equipped, mine_open
from tests.lib.plans import plan_published

pytestmark = pytest.mark.django_db


def imported(
    mine: Mine, raw: bytes, *, keep: bool = True, sheet: str = "", accepted: bool = False
) -> SiteImport:
    return site_import(
        user=mine.users["administrator"], site=mine.site, name="a.csv" if sheet else "site.xlsx", raw=raw,
        sheet=sheet, keep=keep, accepted=accepted,
    )  # fmt: skip


def book_of(**sheets: list[list[Any]]) -> bytes:
    book = Workbook()
    for name, lines in sheets.items():
        page = book.create_sheet(name.replace("_", " "))
        for line in lines:
            page.append(line)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def said(site: Site) -> dict[str, list[Any]]:
    """Everything that the site keeps, in codes."""
    found: dict[str, list[Any]] = {
        noun: sorted(
            repr(plain_values(row, table_columns(table, site)))
            for row in noun_rows(model=noun_model(noun), site=site)
        )
        for noun, table in SITE_TABLES.items()
    }
    return found | {"rules": [repr(plain_values(Site.objects.get(pk=site.pk), rules_columns(site)))]}


def test_a_blank_site_is_set_up_from_the_workbook_of_another(demo_loaded: Callable[[date], None]) -> None:
    demo_loaded(date(2026, 11, 25))
    there = Site.objects.get(code="halfmoon")
    adele = User.objects.get(username="adele")
    raw = site_book(user=adele, site=there, with_rows=True)
    here = mine_open("blank")
    SiteMembership.objects.filter(site=here.site).exclude(user=here.users["administrator"]).delete()
    seen = imported(here, raw, keep=False)
    assert seen.faults == ()
    assert not HeaterSet.objects.filter(site=here.site).exists()
    done = imported(here, raw)
    assert done.faults == ()
    SiteMembership.objects.filter(site=here.site, user=here.users["administrator"]).delete()
    here.site.refresh_from_db()
    before, after = said(there), said(here.site)
    for noun in before:
        assert after[noun] == before[noun], noun
    assert PatternBreak.objects.filter(pattern__site=here.site).exists()
    assert Shift.objects.filter(site=here.site).exists()


def test_the_same_workbook_twice_changes_nothing() -> None:
    mine = mine_equipped()
    raw = site_book(user=mine.users["administrator"], site=mine.site, with_rows=True)
    before = AuditEvent.objects.count()
    done = imported(mine, raw)
    assert done.faults == ()
    assert done.changes_nothing
    assert AuditEvent.objects.count() == before


def test_an_empty_template_names_every_column_and_says_what_it_wants() -> None:
    mine = mine_open()
    empty = site_book(user=mine.users["administrator"], site=mine.site, with_rows=False)
    book = load_workbook(io.BytesIO(empty))
    assert book.sheetnames[0] == "read me"
    assert len(book.sheetnames) == 2 + len(SITE_TABLES)
    sets = book["heater sets"]
    assert [cell.value for cell in sets[1]][:3] == ["code", "name", "channels"]
    assert sets["A1"].font.bold
    with pytest.raises(InvalidValueError, match="headings and no rows"):
        imported(mine, empty)


def test_every_fault_is_told_by_sheet_row_and_column_and_nothing_is_written() -> None:
    mine = mine_equipped()
    raw = book_of(
        positions=[
            ["code", "name", "kinds", "largest size"],
            ["C2", "Cure 2", "cure", "27.00R49"],
            ["C 3", "Cure 3", "cure", ""],
            ["C4", "Cure 4", "cure paint", ""],
            ["C5", "", "cure", ""],
            ["C6", "Cure 6", "cure", "no size"],
            ["C2", "Cure 2 again", "cure", ""],
        ],
        heater_sets=[["code", "name", "channels", "power kw"], ["H9", "Nine", "two", -4]],
    )
    seen = imported(mine, raw)
    assert [(each.sheet, each.row, each.column) for each in seen.faults] == [
        ("positions", 3, "code"), ("positions", 4, "kinds"), ("positions", 5, "name"),
        ("positions", 6, "largest size"), ("positions", 7, "code"), ("heater sets", 2, "channels"),
    ]  # fmt: skip
    assert "no position kind paint" in seen.faults[1].message
    assert not Position.objects.filter(code="C2").exists()


def test_a_column_that_is_missing_changes_nothing_and_an_empty_cell_empties() -> None:
    mine = mine_equipped()
    Position.objects.filter(code="C1").update(largest_size="27.00R49")
    done = imported(mine, b"code,name,kinds\nC1,Cure one,cure\n", sheet="positions")
    assert [outcome.changed for outcome in done.outcomes] == [1]
    assert Position.objects.get(code="C1").largest_size == "27.00R49"
    assert Position.objects.get(code="C1").kinds.count() == 1
    imported(mine, b"code,name,kinds,largest size\nC1,Cure one,cure,\n", sheet="positions")
    assert Position.objects.get(code="C1").largest_size == ""


def test_new_people_and_rosters_come_with_their_breaks_and_shifts(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("django.utils.timezone.now", lambda: at(5))
    mine = mine_open()
    raw = book_of(
        skills=[["code", "name"], ["cure", "Cure"]],
        site_memberships=[["user", "role", "first name"], ["mika", "technician", "Mika"]],
        technicians=[["code", "name", "skills", "user"], ["T1", "Mika Aalto", "cure", "mika"]],
        roster_patterns=[
            ["technician", "recurrence", "starts at", "ends at", "first day", "breaks"],
            ["T1", "FREQ=WEEKLY;BYDAY=MO,TU", "6:00", "16:30", "2026-03-02", "4:00+30, 2:00+10"],
        ],
    )
    assert imported(mine, raw).faults == ()
    assert User.objects.get(username="mika").first_name == "Mika"
    # Three weeks from Monday 2 March on, Mondays and Tuesdays, the last day a Monday: 3 × 2 + 1.
    assert Shift.objects.filter(site=mine.site).count() == 7
    assert [each.minutes for each in PatternBreak.objects.order_by("after_minutes")] == [10, 30]
    assert imported(mine, raw).changes_nothing


def test_an_import_that_breaks_the_plan_says_so_and_is_taken_back(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    monkeypatch.setattr("django.utils.timezone.now", lambda: at(5))
    mine = mine_equipped()
    mine.order("A1")
    plan_published(mine, at(6), at(18, days=2))
    raw = b"code,name,channels,power kw,active\nH1,H1,2,6,no\n"
    seen = imported(mine, raw, sheet="heater sets")
    assert seen.broken is not None
    assert {breach.job for breach in seen.broken.breaches} == {"WO-0001"}
    assert HeaterSet.objects.get(code="H1").active
    imported(mine, raw, sheet="heater sets", accepted=True)
    assert not HeaterSet.objects.get(code="H1").active
    assert AuditEvent.objects.filter(action="plan_broken").count() == 1


@pytest.mark.parametrize(
    ("raw", "sheet", "fault"),
    [
        (b"code,name\nx,y\n", "spanners", "say which table"),
        (book_of(spanners=[["code"], ["x"]]), "", "there is no sheet spanners"),
        (b"PK\x03\x04 not a zip", "", "no sound XLSX"),
        (b"code,colour\nx,red\n", "skills", "no column"),
    ],
    ids=["which table", "strange sheet", "no workbook", "strange column"],
)
def test_a_file_of_another_kind_is_refused_in_words(raw: bytes, sheet: str, fault: str) -> None:
    with pytest.raises(InvalidValueError, match=fault):
        imported(mine_open(), raw, sheet=sheet)


def test_only_an_administrator_takes_the_whole_site_in_or_out() -> None:
    mine = mine_open()
    with pytest.raises(NotAllowedError):
        site_book(user=mine.supervisor, site=mine.site, with_rows=True)
    with pytest.raises(NotAllowedError):
        site_import(user=mine.supervisor, site=mine.site, name="a.csv", raw=b"x", sheet="skills", keep=False)


def test_a_text_that_looks_like_a_formula_stays_text() -> None:
    mine = mine_open()
    mine.add("skill", code="x", name="=1+1")
    raw = site_book(user=mine.users["administrator"], site=mine.site, with_rows=True)
    sheet = load_workbook(io.BytesIO(raw))["skills"]
    assert (sheet["B2"].value, sheet["B2"].data_type) == ("=1+1", "s")


def test_sheets_have_names_of_their_own() -> None:
    names = [sheet_name(table) for table in SITE_TABLES.values()]
    assert len(set(names)) == len(names)
    assert all(len(name) <= 31 for name in names)


def test_the_example_leads_a_blank_site_to_its_first_published_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("django.utils.timezone.now", lambda: at(5))
    mine = mine_open()
    administrator, today = mine.users["administrator"], at(5).date()
    assert site_lack_list(user=administrator, site=mine.site, today=today) != []
    raw = site_example_book(user=administrator, site=mine.site, today=today)
    assert imported(mine, raw, keep=False).faults == ()
    assert imported(mine, raw).faults == ()
    assert site_lack_list(user=administrator, site=mine.site, today=today) == []
    assert imported(mine, raw).changes_nothing
    mine.order("A1", needed_by=at(18, days=3))
    plan = plan_published(mine, at(6), at(17, days=3))
    (job,) = plan_content_get(plan=plan).plan.schedule.jobs
    assert [stage.name for stage in job.stages][-1] == "Strip the set"

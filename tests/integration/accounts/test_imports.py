"""Imports: every fault at once, whole or not at all, and the same file twice changes nothing."""

import io
from datetime import date, datetime, time
from decimal import Decimal

import pytest
from openpyxl import Workbook

from planner.domain.errors import InvalidValueError, NotAllowedError, NotFoundError
from planner.domain.permissions import Role
from planner.models import AuditEvent, CostOutcome, CostPrice, CostRate, CostStock
from planner.services.accounts.imports.importing import ImportPreview, import_apply, import_preview
from planner.services.accounts.periods import period_close
from tests.lib.books import Books, books

pytestmark = pytest.mark.django_db
HEADING = "kind,item,unit,amount,currency,loading,overtime factor,effective from,source"
SOUND = f"""{HEADING}
labour,builder,h,45.50,AUD,0.2,1.5,2026-11-01,agreement
buy new,27.00 R 49,tyre,21000,AUD,,,2026-11-01,quote
"""
FAULTY = f"""{HEADING}
labour,builder,h,forty,AUD,0.2,1.5,2026-11-01,agreement
wages,builder,h,45,AUD,0.2,1.5,2026-11-01,agreement
labour,,h,45,AUD,0.2,1.5,2026-11-01,agreement
labour,builder,,45,AUD,0.2,1.5,2026-11-01,agreement
labour,builder,h,,AUD,0.2,1.5,2026-11-01,agreement
labour,builder,h,-45,AUD,0.2,1.5,2026-11-01,agreement
labour,builder,h,45,dollars,0.2,1.5,2026-11-01,agreement
labour,builder,h,45,AUD,much,1.5,2026-11-01,agreement
labour,builder,h,45,AUD,-1,1.5,2026-11-01,agreement
labour,builder,h,45,AUD,0.2,0.5,2026-11-01,agreement
labour,builder,h,45,AUD,0.2,1.5,1/11/2026,agreement
labour,builder,h,45,AUD,0.2,1.5,2026-02-30,agreement
labour,builder,h,45,AUD,0.2,1.5,,agreement
labour,builder,h,45,AUD,0.2,1.5,2026-11-01,
buy new,no size,tyre,45,AUD,,,2026-11-01,quote
labour,fine,h,45,AUD,0.2,1.5,2026-11-01,agreement
labour,fine,h,46,AUD,0.2,1.5,2026-11-01,agreement
labour,builder,h,NaN,AUD,0.2,1.5,2026-11-01,agreement
labour,builder,h,45.123456,AUD,0.2,1.5,2026-11-01,agreement
labour,builder,h,45,,0.2,1.5,2026-11-01,agreement
labour,builder,h,45,AUD,0.2,1.5,2026-09-30,agreement
"""
FAULTS = [
    (2, "amount"), (3, "kind"), (4, "item"), (5, "unit"), (6, "amount"), (7, "amount"), (8, "currency"),
    (9, "loading"), (10, "loading"), (11, "overtime factor"), (12, "effective from"), (13, "effective from"),
    (14, "effective from"), (15, "source"), (16, "item"), (18, "kind, item, effective from"), (19, "amount"),
    (20, "amount"), (21, "currency"), (22, "effective from"),
]  # fmt: skip


@pytest.fixture(name="found")
def _found() -> Books:
    return books()


def preview(found: Books, text: str, kind: str = "prices", name: str = "a.csv") -> ImportPreview:
    return import_preview(user=found.accountant, site=found.site, kind=kind, name=name, raw=text.encode())


def apply(found: Books, text: str, kind: str = "prices") -> ImportPreview:
    return import_apply(user=found.accountant, site=found.site, kind=kind, name="a.csv", raw=text.encode())


def test_twenty_planted_faults_are_all_found_by_row_and_column(found: Books) -> None:
    period_close(user=found.accountant, site=found.site, month=date(2026, 9, 1))
    seen = preview(found, FAULTY)
    assert [(fault.row, fault.column) for fault in seen.faults] == FAULTS
    before = CostPrice.objects.count()
    with pytest.raises(
        InvalidValueError, match="nothing was imported: 20 faults, the first in row 2, amount"
    ):
        apply(found, FAULTY)
    assert CostPrice.objects.count() == before


def test_a_preview_writes_nothing_and_an_import_all(found: Books) -> None:
    before = CostPrice.objects.count()
    assert len(preview(found, SOUND).added) == 2
    assert CostPrice.objects.count() == before
    apply(found, SOUND)
    assert CostPrice.objects.count() == before + 2
    row = CostPrice.objects.get(item="builder")
    assert (row.amount, row.loading, row.effective_from) == (
        Decimal("45.5"),
        Decimal("0.2"),
        date(2026, 11, 1),
    )
    assert CostPrice.objects.filter(item="27.00R49").count() == 2


def test_the_same_file_twice_changes_nothing(found: Books) -> None:
    apply(found, SOUND)
    events = AuditEvent.objects.count()
    again = apply(found, SOUND)
    assert (again.changes_nothing, again.unchanged) == (True, 2)
    assert AuditEvent.objects.count() == events


def test_a_corrected_row_is_changed_and_the_rest_stays(found: Books) -> None:
    apply(found, SOUND)
    again = apply(found, SOUND.replace("45.50", "46"))
    assert (len(again.added), len(again.changed), again.unchanged) == (0, 1, 1)
    assert CostPrice.objects.get(item="builder").amount == 46


def test_an_xlsx_with_its_own_types(found: Books) -> None:
    book = Workbook()
    assert book.active is not None
    book.active.append(["Serial", "Zone", "Size class", "Repaired on", "Hours", "Failed"])
    book.active.append(["A1", "Sidewall", "large", datetime.combine(date(2025, 3, 4), time()), 1200.5, True])
    book.active.append([None] * 6)
    book.active.append(["A2", "crown", "large", "2025-03-05", 900, "no"])
    raw = io.BytesIO()
    book.save(raw)
    import_apply(user=found.accountant, site=found.site, kind="outcomes", name="a.XLSX", raw=raw.getvalue())
    rows = list(CostOutcome.objects.values_list("serial", "repaired_on", "hours", "failed"))
    assert rows == [
        ("A1", date(2025, 3, 4), Decimal("1200.5"), True),
        ("A2", date(2025, 3, 5), Decimal(900), False),
    ]


def test_rates_and_stock(found: Books) -> None:
    apply(found, "kind;name;rate;effective from;source\nexchange;USD;1.52;2026-11-01;bank\n", "rates")
    apply(found, "size,on hand\n27.00 r 49,3\n", "stock")
    assert CostRate.objects.get().rate == Decimal("1.52")
    assert (CostStock.objects.get().size, CostStock.objects.get().on_hand) == ("27.00R49", 3)


@pytest.mark.parametrize(
    ("name", "raw", "message"),
    [
        ("a.csv", b"", "empty"),
        ("a.csv", b"\xff\xfe\x00", "no UTF-8"),
        ("a.xlsx", b"not a zip", "no sound XLSX"),
        ("a.csv", HEADING.encode(), "a heading and no rows"),
        ("a.csv", b"kind,item\nlabour,x\n", "no column amount, currency, effective from, source, unit"),
        ("a.csv", (HEADING + ",colour\n" + "x," * 10).encode(), "no column colour"),
        ("a.csv", b"kind,kind\nx,y\n", "stands in the file twice"),
        ("a.csv", b'kind,item\n"x', "no sound CSV"),
    ],
)
def test_what_is_no_such_file_is_said(found: Books, name: str, raw: bytes, message: str) -> None:
    with pytest.raises(InvalidValueError, match=message):
        import_preview(user=found.accountant, site=found.site, kind="prices", name=name, raw=raw)


def test_only_whoever_may_change_money_imports(found: Books) -> None:
    with pytest.raises(NotAllowedError):
        import_preview(
            user=found.people[Role.SUPERVISOR], site=found.site, kind="prices", name="a.csv", raw=b"x"
        )
    with pytest.raises(NotFoundError, match="no import of songs"):
        preview(found, SOUND, "songs")

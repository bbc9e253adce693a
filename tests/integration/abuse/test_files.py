"""Files that mean harm: bombs, entities, broken packings, wide tables. None takes a worker along."""

import io
import zipfile
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import Workbook

from planner.domain.errors import InvalidValueError
from planner.services import cure_log_file
from planner.services.cure_log_file import cure_log_rows
from planner.services.imports import workbook
from planner.services.imports.table import MOST_COLUMNS, table_read
from planner.services.injury_photos import photo_redrawn

READERS: dict[str, Callable[[bytes, str], Any]] = {
    "table": lambda raw, name: table_read(name, raw),
    "cure log": lambda raw, name: cure_log_rows(raw=raw, name=name),
}
every_reader = pytest.mark.parametrize("read", READERS.values(), ids=list(READERS))


def book_of(*rows: list[Any]) -> bytes:
    book, out = Workbook(), io.BytesIO()
    for row in rows or (["Time", "In", "Out"], [1, 2, 3], [2, 3, 4]):
        book.active.append(row)  # type: ignore[union-attr]
    book.save(out)
    return out.getvalue()


def repacked(raw: bytes, changes: dict[str, bytes]) -> bytes:
    """The workbook with some of its parts replaced, or added."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            new.writestr(name, changes.get(name, old.read(name)))
        for name in changes.keys() - set(old.namelist()):
            new.writestr(name, changes[name])
    return out.getvalue()


def part(raw: bytes, name: str) -> bytes:
    with zipfile.ZipFile(io.BytesIO(raw)) as packed:
        return packed.read(name)


SHEET = "xl/worksheets/sheet1.xml"


@every_reader
def test_a_bomb_is_refused_before_it_is_unfolded(
    read: Callable[[bytes, str], Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert max(workbook.MOST_UNFOLDED_BYTES, cure_log_file.LARGEST_UNPACKED_BYTES) <= 160_000_000
    monkeypatch.setattr(workbook, "MOST_UNFOLDED_BYTES", 10**6)
    monkeypatch.setattr(cure_log_file, "LARGEST_UNPACKED_BYTES", 10**6)
    bomb = repacked(book_of(), {"xl/media/x.bin": b"\0" * 2_000_000})
    assert len(bomb) < 20_000
    with pytest.raises(InvalidValueError, match="unfolds to more than 1 MB"):
        read(bomb, "x.xlsx")


@every_reader
def test_a_file_of_too_many_parts_is_refused(read: Callable[[bytes, str], Any]) -> None:
    many = repacked(book_of(), {f"xl/media/{number}": b"" for number in range(2100)})
    with pytest.raises(InvalidValueError, match="unfolds"):
        read(many, "x.xlsx")


@every_reader
def test_a_packing_that_lies_about_its_size_is_refused(read: Callable[[bytes, str], Any]) -> None:
    raw = bytearray(repacked(book_of(), {SHEET: part(book_of(), SHEET) + b" " * 100_000}))
    size = (100_000 + len(part(book_of(), SHEET))).to_bytes(4, "little")
    assert raw.count(size) == 2  # in its own heading and in the directory at the end
    with pytest.raises(InvalidValueError):
        read(bytes(raw.replace(size, (500).to_bytes(4, "little"))), "x.xlsx")


ENTITIES = {
    "laughs": b'<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>',
    "outside": b'<!DOCTYPE x [<!ENTITY b SYSTEM "file:///etc/passwd">]>',
}


@every_reader
@pytest.mark.parametrize("kind", ENTITIES)
@pytest.mark.parametrize("place", [SHEET, "xl/styles.xml", "xl/workbook.xml"])
def test_xml_entities_are_not_resolved(read: Callable[[bytes, str], Any], kind: str, place: str) -> None:
    raw = book_of(["Time", "In", "&"], [1, 2, 3])
    xml = part(raw, place)
    head, _, rest = xml.partition(b"?>") if xml.startswith(b"<?xml") else (b'<?xml version="1.0"', b"", xml)
    told = rest.replace(b"&amp;", b"&b;")
    with pytest.raises(InvalidValueError):
        read(repacked(raw, {place: head + b"?>" + ENTITIES[kind] + told}), "x.xlsx")


@every_reader
@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_a_broken_workbook_is_the_users_fault(read: Callable[[bytes, str], Any], data: st.DataObject) -> None:
    raw = book_of(["Time", "In", "Out"], [1, 2, "x"], [2, 3, 4])
    name = data.draw(st.sampled_from([SHEET, "xl/workbook.xml", "xl/styles.xml", "[Content_Types].xml"]))
    xml = bytearray(part(raw, name))
    for _ in range(data.draw(st.integers(1, 6))):
        xml[data.draw(st.integers(0, len(xml) - 1))] = data.draw(st.integers(0, 255))
    try:
        read(repacked(raw, {name: bytes(xml)}), "x.xlsx")
    except InvalidValueError:
        return


@every_reader
@settings(max_examples=40, deadline=None)
@given(raw=st.binary(max_size=300), head=st.sampled_from([b"", b"PK\x03\x04", b"\xff\xfe", b"a,b,c\n"]))
def test_any_bytes_are_rows_or_the_users_fault(
    read: Callable[[bytes, str], Any], raw: bytes, head: bytes
) -> None:
    try:
        read(head + raw, "x.csv")
    except InvalidValueError:
        return


@every_reader
def test_a_table_as_wide_as_a_file_can_be_is_refused_at_once(read: Callable[[bytes, str], Any]) -> None:
    with pytest.raises(InvalidValueError, match=r"columns|column names"):
        read((",".join(map(str, range(200_000))) + "\n").encode(), "x.csv")


def test_a_sheet_that_claims_every_column_is_refused_at_its_first_row() -> None:
    raw = book_of(["a", "b"], [1, 2])
    sheet = part(raw, SHEET).replace(b'ref="A1:B2"', b'ref="A1:XFD1048576"')
    with pytest.raises(InvalidValueError, match=f"more than {MOST_COLUMNS} columns"):
        table_read("x.xlsx", repacked(raw, {SHEET: sheet}))


@every_reader
def test_a_cell_longer_than_any_is_refused(read: Callable[[bytes, str], Any]) -> None:
    with pytest.raises(InvalidValueError):
        read(b"a,b,c\n1,2," + b"x" * 200_000 + b"\n", "x.csv")


@pytest.mark.parametrize(
    "raw",
    [
        b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>",
        b"<html><script>alert(1)</script>",
        b"GIF89a" + b"\0" * 50,
        b"%PDF-1.4",
        b"MZ" + b"\0" * 60,
        b"\x89PNG\r\n\x1a\n" + b"\0" * 30,
        b"\xff\xd8\xff\xe0" + b"<script>" * 20,
    ],
)
def test_what_is_no_photo_is_never_kept(raw: bytes) -> None:
    with pytest.raises(InvalidValueError):
        photo_redrawn(raw)

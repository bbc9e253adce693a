"""Ids: given once, and known where they are used."""

from collections.abc import Iterable, Sequence

from planner.scheduling.faults import FaultList, Place, shown
from planner.scheduling.shapes import Row


def ids_check(rows: Iterable[Row], name: str, faults: FaultList) -> None:
    """Note each row whose id (the field `name`) another row before it has."""
    first: dict[str, Place] = {}
    for row in rows:
        if not row.has(name):
            continue
        if row[name] in first:
            faults.add(row.at(name), f"{shown(row[name])} is already taken by {first[row[name]].text}")
        else:
            first[row[name]] = row.at(name)


def ids_of(root: Row, table: str) -> frozenset[str] | None:
    """The ids of a table, or None where one of them cannot be known."""
    rows: Sequence[Row] | None = root.get(table)
    if rows is None or not all(row.has("id") for row in rows):
        return None
    return frozenset(row["id"] for row in rows)


def known_check(
    names: Iterable[str], known: frozenset[str] | None, noun: str, place: Place, faults: FaultList
) -> None:
    """Note each name of a list at `place` that no row of its table has."""
    for index, name in enumerate(names):
        if known is not None and name not in known:
            faults.add(place.item(index), f"there is no {noun} {shown(name)}")

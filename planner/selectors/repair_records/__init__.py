"""The record of a repair: as it stands now, and as it was signed."""

from planner.selectors.repair_records.reading import RepairRecord, photo_get, photo_list, repair_record_get

__all__ = ["RepairRecord", "photo_get", "photo_list", "repair_record_get"]

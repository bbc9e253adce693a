"""The ruler shows the wall clock, and elapsed time as distance."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from planner.domain.bay_time import Span
from planner.web.timeline.ruler import ruler
from planner.web.timeline.scale import Scale, Zoom

SYDNEY = ZoneInfo("Australia/Sydney")


def _ticks(start: datetime, hours: int, zoom: Zoom = Zoom.SHIFT) -> list[tuple[str, float]]:
    scale = Scale(span=Span(0, hours * 60), zoom=zoom)
    return [(f"{tick.at:%d %H:%M}", tick.x) for tick in ruler(scale, start, SYDNEY)]


def test_spring_forward_skips_an_hour_of_the_wall_clock_and_none_of_the_board() -> None:
    # 3 Oct 2026 15:00 UTC is 01:00 on the 4th in Sydney (+10); at 02:00 the clock goes to 03:00.
    ticks = _ticks(datetime(2026, 10, 3, 15, 0, tzinfo=UTC), 3)
    assert ticks == [("04 01:00", 0.0), ("04 03:00", 84.0), ("04 04:00", 168.0)]


def test_autumn_shows_the_repeated_hour_twice() -> None:
    # 4 Apr 2026 15:00 UTC is 02:00 on the 5th in Sydney (+11); at 03:00 the clock goes back to 02:00.
    ticks = _ticks(datetime(2026, 4, 4, 15, 0, tzinfo=UTC), 3)
    assert [name for name, _ in ticks] == ["05 02:00", "05 02:00", "05 03:00"]


def test_a_start_off_the_quarter_still_ticks_on_full_hours() -> None:
    ticks = _ticks(datetime(2026, 6, 1, 20, 7, tzinfo=UTC), 2)
    # 06:07 local (+10); 07:00 lies 53 min later: 53 × 84 / 60 = 74.2 px.
    assert ticks[:2] == [("02 06:07", 0.0), ("02 07:00", 74.2)]


def test_days_begin_at_local_midnight() -> None:
    scale = Scale(span=Span(0, 2880), zoom=Zoom.WEEK)
    days = [tick for tick in ruler(scale, datetime(2026, 6, 1, 20, 0, tzinfo=UTC), SYDNEY) if tick.is_day]
    assert [f"{tick.at:%d %H}" for tick in days] == ["02 06", "03 00", "04 00"]


def test_no_second_name_of_a_day_stands_on_the_first() -> None:
    # 11:55 local (+10); at 12:00, 7 px further on, the day would be named again.
    scale = Scale(span=Span(0, 1440), zoom=Zoom.SHIFT)
    ticks = ruler(scale, datetime(2026, 6, 1, 1, 55, tzinfo=UTC), SYDNEY)
    assert [f"{tick.at:%H:%M}" for tick in ticks if tick.names_day] == ["11:55", "18:00", "00:00", "06:00"]


def test_the_hour_of_the_start_gives_way_to_the_first_full_one() -> None:
    # 05:50 local (+10): on a day's board 06:00 lies 6 px further on. From 04:00 on there is room.
    def named(hour: int, minute: int) -> list[str]:
        scale = Scale(span=Span(0, 300), zoom=Zoom.DAY)
        ticks = ruler(scale, datetime(2026, 6, 1, hour, minute, tzinfo=UTC), SYDNEY)
        return [f"{tick.at:%H:%M}" for tick in ticks if tick.names_hour]

    assert named(19, 50) == ["06:00", "09:00"]
    assert named(18, 0) == ["04:00", "06:00"]


def test_a_week_names_no_midnight() -> None:
    scale = Scale(span=Span(0, 2880), zoom=Zoom.WEEK)
    ticks = list(ruler(scale, datetime(2026, 6, 1, 20, 0, tzinfo=UTC), SYDNEY))
    assert [f"{tick.at:%d %H}" for tick in ticks if tick.names_hour] == ["02 12", "03 12"]

"""Elapsed time as people say it."""

_DAYS_FROM_HOURS = 72


def hours_minutes(minutes: int) -> str:
    """Elapsed minutes as `3 h 05 min`; three days and more as `4 d 7 h`, to the nearest hour."""
    hours, rest = divmod(int(minutes), 60)
    if not hours:
        return f"{rest} min"
    if hours >= _DAYS_FROM_HOURS:
        days, left = divmod(hours + (rest >= 30), 24)
        return f"{days} d {left} h" if left else f"{days} d"
    return f"{hours} h {rest:02d} min" if rest else f"{hours} h"

"""Elapsed time as people say it."""


def hours_minutes(minutes: int) -> str:
    """Elapsed minutes as `3 h 05 min`."""
    hours, rest = divmod(int(minutes), 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest:02d} min" if rest else f"{hours} h"

"""How much of a shared resource is left in each slot: a number for each slot, held bit by bit.

`planes[0]` holds the ones, `planes[1]` the twos and so on, so that taking one unit in a thousand slots costs
as much as taking it in one.
"""

Planes = tuple[int, ...]


def level(amount: int, timeline: int) -> Planes:
    """`amount` units in each slot of `timeline`, none elsewhere."""
    return tuple(timeline if amount >> place & 1 else 0 for place in range(max(1, amount.bit_length())))


def at_least(planes: Planes, amount: int) -> int:
    """The slots where at least `amount` units (1 or more) are left."""
    if amount >> len(planes):
        return 0
    if len(planes) == 1:
        return planes[0]
    more, same = 0, -1
    for place in range(len(planes) - 1, -1, -1):
        plane = planes[place]
        if amount >> place & 1:
            same &= plane
        else:
            more |= same & plane
            same &= ~plane
    return more | same


def taken(planes: Planes, timeline: int, amount: int) -> Planes:
    """What is left after `amount` units are taken in each slot of `timeline`, where so many are there."""
    if len(planes) == 1:
        return (planes[0] & ~timeline,)
    borrow, left = 0, []
    for place, plane in enumerate(planes):
        wanted = timeline if amount >> place & 1 else 0
        left.append(plane ^ wanted ^ borrow)
        borrow = (~plane & (wanted | borrow)) | (wanted & borrow)
    return tuple(left)


def given(planes: Planes, timeline: int, amount: int) -> Planes:
    """What is left after `amount` units are given back in each slot of `timeline`."""
    if len(planes) == 1:
        return (planes[0] | timeline,)
    carry, left = 0, []
    for place, plane in enumerate(planes):
        offered = timeline if amount >> place & 1 else 0
        left.append(plane ^ offered ^ carry)
        carry = (plane & (offered | carry)) | (offered & carry)
    return tuple(left)

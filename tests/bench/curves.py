"""Lateness over time as an SVG: steps down, one line for each planner."""

from collections.abc import Mapping, Sequence

WIDTH, HEIGHT, MARGIN = 720, 360, 60
DASHES = ("", "8 4", "2 3", "10 3 2 3")

Curve = Sequence[tuple[float, int]]


def curves_draw(title: str, curves: Mapping[str, Curve]) -> str:
    """The picture; a planner that found nothing stands in the legend only."""
    longest = max((second for curve in curves.values() for second, _ in curve), default=1.0) or 1.0
    highest = max((late for curve in curves.values() for _, late in curve), default=1) or 1
    lines = [
        _line(curve, longest, highest, DASHES[number % len(DASHES)])
        for number, curve in enumerate(curves.values())
    ]
    legend = [
        f'<text x="{WIDTH - 170}" y="{20 + 16 * number}">{name} ({dashes or "solid"})</text>'
        for number, (name, dashes) in enumerate(zip(curves, DASHES * len(curves), strict=False))
    ]
    axes = (
        f'<path d="M{MARGIN} 10V{HEIGHT - 30}H{WIDTH - 10}" fill="none" stroke="currentColor"/>'
        f'<text x="4" y="20">{highest}</text><text x="{WIDTH - 60}" y="{HEIGHT - 10}">{longest:.0f} s</text>'
        f'<text x="{MARGIN}" y="{HEIGHT - 10}">{title}: lateness over time</text>'
    )
    style = 'font-family="sans-serif" font-size="12"'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" {style}>'
    return "\n".join([head, axes, *lines, *legend, "</svg>", ""])


def _line(curve: Curve, longest: float, highest: int, dashes: str) -> str:
    """A step line: a plan's lateness holds until the next one is found."""
    if not curve:
        return ""
    points = [
        (MARGIN + (WIDTH - MARGIN - 10) * s / longest, HEIGHT - 30 - (HEIGHT - 40) * late / highest)
        for s, late in curve
    ]
    steps = "".join(f"H{x:.1f}V{y:.1f}" for x, y in points[1:])
    path = f"M{points[0][0]:.1f} {points[0][1]:.1f}{steps}H{WIDTH - 10}"
    return f'<path d="{path}" fill="none" stroke="currentColor" stroke-dasharray="{dashes}"/>'

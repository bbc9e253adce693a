"""The curve of a build."""

from planner.web.supervisor.curve import HEIGHT, WIDTH, curve_of


def test_a_value_holds_until_the_next_comes() -> None:
    # Half of 10 s is half of the width; 999 is the highest, log10(1000) = 3; 9 is a third of it.
    curve = curve_of([[0.0, 999, 0], [5.0, 9, 0]], seconds=10, elapsed_seconds=10)
    assert curve
    top, low = 4.0, round(HEIGHT - 4 - (HEIGHT - 8) / 3, 1)
    assert curve.score == f"0.0,{top} {WIDTH / 2},{top} {WIDTH / 2},{low} {WIDTH:.1f},{low}"


def test_nothing_is_drawn_before_there_is_a_plan() -> None:
    assert curve_of([[0.1, None, 0]], seconds=10, elapsed_seconds=10) is None


def test_the_lines_end_at_the_present() -> None:
    # 4 of 10 s have gone since the first plan came.
    curve = curve_of([[0.0, 999, 9]], seconds=10, elapsed_seconds=4)
    assert curve
    assert [points.split()[-1].split(",")[0] for points in (curve.score, curve.bound)] == [
        str(0.4 * WIDTH)
    ] * 2


def test_a_perfect_score_draws_a_flat_line() -> None:
    curve = curve_of([[0.0, 0, 0]], seconds=10, elapsed_seconds=10)
    assert curve
    assert curve.score == f"0.0,{HEIGHT - 4.0} {WIDTH:.1f},{HEIGHT - 4.0}"

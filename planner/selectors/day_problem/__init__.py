"""From the site's rows to a bay problem."""

from planner.selectors.day_problem.making import (
    DayProblem,
    NotEntered,
    day_problem_get,
    order_obstacle_list,
)

__all__ = ["DayProblem", "NotEntered", "day_problem_get", "order_obstacle_list"]

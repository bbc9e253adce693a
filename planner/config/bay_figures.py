"""The bay's own figures for Prometheus, read from the database when somebody asks.

So they are the same from every web process, and count what a worker did that died since.
"""

from collections.abc import Iterator

from prometheus_client import CollectorRegistry
from prometheus_client.core import GaugeMetricFamily, Metric, SummaryMetricFamily
from prometheus_client.registry import Collector

from planner.config.task_counts import task_figures
from planner.selectors.service_figures import ServiceFigures, service_figures_get


class BayFigures(Collector):
    """A collector: how the building of plans stands."""

    def collect(self) -> Iterator[Metric]:
        """Yield each family."""
        figures = service_figures_get()
        yield GaugeMetricFamily(
            "tyrewright_unattended_tyres",
            "Tyres hot or under pressure that nobody attends, as the clock of beat saw it last",
            figures.unattended_tyres,
        )
        yield _webhooks(figures)
        yield from task_figures()
        yield GaugeMetricFamily(
            "tyrewright_build_queue_age_seconds",
            "Age of the oldest plan build that no worker took up [s]",
            figures.queue_age_seconds,
        )
        yield GaugeMetricFamily(
            "tyrewright_build_silent_seconds",
            "Longest silence of a running plan build [s]",
            figures.silent_seconds,
        )
        yield SummaryMetricFamily(
            "tyrewright_solve_seconds",
            "Time that plan builds took which ended in a plan [s]",
            count_value=figures.solves,
            sum_value=figures.solve_seconds,
        )
        yield from _labelled(figures)


def _labelled(figures: ServiceFigures) -> Iterator[Metric]:
    builds = GaugeMetricFamily("tyrewright_builds", "Plan builds, by the state they are in", labels=["state"])
    for state, count in figures.builds.items():
        builds.add_metric([state], count)
    gaps = GaugeMetricFamily(
        "tyrewright_solve_gap", "Share of the newest plan's lateness not proved unavoidable", labels=["site"]
    )
    for site, gap in figures.last_gaps.items():
        gaps.add_metric([site], gap)
    yield from (builds, gaps)


def _webhooks(figures: ServiceFigures) -> Metric:
    family = GaugeMetricFamily("tyrewright_webhook_deliveries", "Deliveries not made", labels=["state"])
    family.add_metric(["waiting"], figures.webhooks_waiting)
    family.add_metric(["given_up"], figures.webhooks_given_up)
    return family


def bay_registry() -> CollectorRegistry:
    """A registry that holds only these, apart from what each process counts."""
    registry = CollectorRegistry()
    registry.register(BayFigures())
    return registry

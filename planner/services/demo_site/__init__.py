"""The demo site: invented throughout, read from `fixtures/demo_site`, written through the services."""

from planner.services.demo_site.load import DemoUser, demo_site_load, demo_user_list

__all__ = ["DemoUser", "demo_site_load", "demo_user_list"]

"""The site's rows, services and selectors."""

"""The way in: sign in and out, the choice of a site, the first page by role."""

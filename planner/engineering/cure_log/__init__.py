"""A finished cure as its logger saw it: read as it stands, judged against the plan, never repaired."""

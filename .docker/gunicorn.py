"""The web server: the figures of a process that ended stay counted, and take no place of their own."""

import os

bind = "0.0.0.0:8000"
workers = 2
threads = 8
worker_tmp_dir = "/dev/shm"  # noqa: S108 (memory, as gunicorn advises for containers)
max_requests = 5000
max_requests_jitter = 500
timeout = 60
limit_request_line = 8190  # as long as the proxy reads


def child_exit(server: object, worker: object) -> None:
    """Let Prometheus drop what only a living process counts."""
    if "PROMETHEUS_MULTIPROC_DIR" in os.environ:
        from prometheus_client import multiprocess

        multiprocess.mark_process_dead(worker.pid)  # type: ignore[attr-defined,no-untyped-call]

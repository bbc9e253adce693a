"""One JSON object for each log line, with the ids that tie lines together and no names of people."""

import json
import logging
from contextvars import ContextVar
from datetime import UTC, datetime

REQUEST_ID: ContextVar[str | None] = ContextVar("request_id", default=None)
TASK_ID: ContextVar[str | None] = ContextVar("task_id", default=None)
EXTRA_FIELDS = ("method", "route", "status", "milliseconds", "user_id")


class JsonFormatter(logging.Formatter):
    """A record as one line of JSON; only the fields named here ever leave the process."""

    def format(self, record: logging.LogRecord) -> str:
        """Write the record: time in UTC, level, logger, message, ids, and the error if there was one."""
        line: dict[str, object] = {
            "time": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname,
            "logger": record.name,
            "message": record.getMessage(),
            "request_id": REQUEST_ID.get(),
            "task_id": TASK_ID.get(),
        }
        line |= {name: getattr(record, name) for name in EXTRA_FIELDS if hasattr(record, name)}
        if record.exc_info:
            line["error"] = self.formatException(record.exc_info)
        return json.dumps({key: value for key, value in line.items() if value is not None}, default=str)

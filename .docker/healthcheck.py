"""Ask the web server of this container whether it is ready, under a host name that it serves."""

import os
import urllib.request

HOST = os.environ["TYREWRIGHT_HOSTS"].split(",")[0].strip()
request = urllib.request.Request("http://127.0.0.1:8000/readyz", headers={"Host": HOST})
urllib.request.urlopen(request, timeout=4)  # noqa: S310 - a fixed address of our own; 503 raises

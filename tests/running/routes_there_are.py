"""Tell every address that the server of the pages answers, as JSON; run as a process of its own."""

import json
import sys

from dashboard.identity.gate import signing_in
from dashboard.identity.login import login
from dashboard.pages_there_are import PAGES
from dashboard.server import app
from dashboard.walkdown.http_routes import http_routes


def methods_of(route):
    return sorted(set(getattr(route, "methods", None) or {"ANY"}) - {"HEAD", "OPTIONS"})


def main():
    whole = app._build_starlette_app().routes  # noqa: SLF001 - what it answers stands nowhere else
    found = [*whole, *http_routes(), *signing_in(login()).routes]
    told = {f"{method} {route.path}" for route in found for method in methods_of(route)}
    told |= {f"PAGE /{page.path}" for page in PAGES}
    sys.stdout.write(json.dumps(sorted(told)))


if __name__ == "__main__":
    main()

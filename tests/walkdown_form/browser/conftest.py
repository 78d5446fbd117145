"""The form's page in a real browser, on a phone and on a tablet."""

from collections.abc import Iterator
from pathlib import Path

import pandas as pd
import pytest
from kept_plants import GRAIN_PORT, SMALL_QUARRY
from pages_on_a_store import Pages, load
from phone import Phone, settings_of

from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.walkdown_form.document import form_document
from scoring.walkdown_form.without_network import route_page


@pytest.fixture(scope="module")
def pages(tmp_path_factory) -> Iterator[Pages]:
    """Show a plant of a store of its own."""
    file = tmp_path_factory.mktemp("plant") / "plant.db"
    load(SMALL_QUARRY, file)
    running = Pages(file)
    running.start()
    yield running
    running.kill()


@pytest.fixture(scope="session")
def records():
    return read_fleet(GRAIN_PORT).tables


@pytest.fixture(scope="session")
def fleet(records):
    return check_fleet(records, pd.Timestamp.today()).fleet


@pytest.fixture(scope="session")
def one_of_each(fleet) -> dict[str, str]:
    """Return a unit of each mounting, by mounting."""
    first = fleet.units.groupby("mounting", observed=True).head(1)
    return dict(zip(first["mounting"].astype(str), first["unit_id"].astype(str), strict=True))


@pytest.fixture(scope="session")
def form(fleet, one_of_each):
    return form_document(fleet.units, list(one_of_each.values()))


@pytest.fixture(scope="session")
def route_file(fleet, one_of_each, tmp_path_factory) -> Path:
    path = tmp_path_factory.mktemp("route") / "route.html"
    path.write_text(
        route_page(fleet.units, list(one_of_each.values()), "round A"), encoding="utf-8"
    )
    return path


@pytest.fixture
def phone(browser, route_file: Path) -> Iterator[Phone]:
    """Open the route's file on a phone without any network."""
    context = browser.new_context(**settings_of(390))
    context.set_offline(True)
    opened = Phone(context.new_page())
    opened.open(route_file.as_uri())
    yield opened
    complaints = list(opened.complaints)  # the browser itself complains on closing
    context.close()
    assert opened.asked == []
    assert complaints == []

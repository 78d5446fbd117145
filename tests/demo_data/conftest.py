"""Plants that several tests look at, generated once."""

import pandas as pd
import pytest
from simple_reading import findings

from demo_data.fleet import Fleet
from demo_data.plants import PLANTS


@pytest.fixture(scope="session")
def plants() -> dict[str, Fleet]:
    return {name: plant.generate() for name, plant in PLANTS.items()}


@pytest.fixture(scope="session")
def large(plants: dict[str, Fleet]) -> Fleet:
    return plants["ore_works"]


@pytest.fixture(scope="session")
def open_findings(plants: dict[str, Fleet]) -> dict[str, tuple[pd.DataFrame, pd.DataFrame]]:
    return {name: findings(fleet) for name, fleet in plants.items()}

"""Every formula says its units, its source and shows an example; every number its source."""

import importlib
import inspect
import pkgutil
import re
from collections.abc import Iterator
from types import FunctionType, ModuleType

import numpy as np
import pytest

import scoring.mechanics
from scoring.mechanics.provenance import Provenance, SourcedRange
from scoring.mechanics.reliability_factors import A1_SOURCES, A1_TABLES

MODULES = [
    importlib.import_module(f"scoring.mechanics.{found.name}")
    for found in pkgutil.iter_modules(scoring.mechanics.__path__)
]
GUARDS = ("scoring.mechanics.validity_ranges", "scoring.mechanics.provenance")


def _functions(module: ModuleType) -> Iterator[FunctionType]:
    for name, found in inspect.getmembers(module, inspect.isfunction):
        if found.__module__ == module.__name__ and not name.startswith("_"):
            yield found


def _sections(doc: str) -> dict[str, str]:
    parts = re.split(r"^(\w[\w ]*)\n-+\n", inspect.cleandoc(doc), flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def _entries(section: str) -> dict[str, str]:
    """Name line and description of each parameter or result."""
    parts = re.split(r"^(?=\S)", section.strip("\n"), flags=re.MULTILINE)
    entries = (part.split("\n", 1) for part in parts if part.strip())
    return {head.strip(): body for head, body in entries}


FUNCTIONS = [function for module in MODULES for function in _functions(module)]
RANGES = [
    (f"{module.__name__}.{name}", value)
    for module in MODULES
    for name, given in vars(module).items()
    if not name.startswith("_")
    for value in (given.values() if isinstance(given, dict) else [given])
    if isinstance(value, SourcedRange)
]


def test_there_is_something_to_check() -> None:
    assert len(FUNCTIONS) > 50
    assert len(RANGES) > 10


@pytest.mark.parametrize("function", FUNCTIONS, ids=lambda f: f"{f.__module__}.{f.__name__}")
def test_one_unit_for_each_parameter_and_the_result(function: FunctionType) -> None:
    sections = _sections(function.__doc__ or "")
    described = _entries(sections["Parameters"])
    names = [name.strip() for head in described for name in head.split(" : ")[0].split(",")]
    assert names == list(inspect.signature(function).parameters)
    for head, body in {**described, **_entries(sections["Returns"])}.items():
        assert len(re.findall(r"\[[^\[\]]+\]", body)) == 1, head
        assert re.search(r"\[[^\[\]]+\]\s*$", body), head


@pytest.mark.parametrize("function", FUNCTIONS, ids=lambda f: f"{f.__module__}.{f.__name__}")
def test_an_example_and_a_source(function: FunctionType) -> None:
    sections = _sections(function.__doc__ or "")
    assert ">>>" in sections["Examples"]
    if function.__module__ not in GUARDS:
        assert "Source: " in sections["Notes"]


def test_every_module_says_what_it_is_about() -> None:
    for module in MODULES:
        assert module.__doc__, module.__name__


@pytest.mark.parametrize(("name", "value"), RANGES, ids=[name for name, _ in RANGES])
def test_every_range_has_a_source_and_a_unit(name: str, value: SourcedRange) -> None:
    assert value.unit, name
    assert len(value.source) > 10, name
    assert np.isfinite([value.low, value.typical, value.high]).all(), name
    if value.provenance is Provenance.PUBLISHED:
        assert "memory" not in value.source, name
        assert "ours" not in value.source, name
    if value.provenance is Provenance.FROM_MEMORY:
        assert "memory" in value.source, name


def test_every_edition_of_a_table_has_a_source() -> None:
    assert A1_SOURCES.keys() == A1_TABLES.keys()
    for provenance, source in A1_SOURCES.values():
        assert isinstance(provenance, Provenance)
        assert source

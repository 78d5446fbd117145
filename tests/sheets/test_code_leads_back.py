"""A sheet that was printed, copied and read by a phone leads to the page of its unit."""

import numpy as np
import pytest
from PIL import Image, ImageFilter
from printed_pages import codes_on, pictures_of
from units_to_walk import fleet

from dashboard.presenters.finding_units import found_units, unit_link, units_with
from scoring.printing.as_pdf import as_pdf
from scoring.sheets.blank_walkdown import blank_walkdowns

IDS = fleet().units["unit_id"].tolist()


def copied(page, seed, turned):
    """Copy a page: turned a little, blurred, noisy, and pale."""
    seen = page.rotate(turned, expand=True, fillcolor=255).filter(ImageFilter.GaussianBlur(0.8))
    shades = np.asarray(seen, dtype=float) * 0.75 + 45
    noise = np.random.default_rng(seed).normal(0, 18, shades.shape)
    return Image.fromarray(np.clip(shades + noise, 0, 255).astype(np.uint8))


@pytest.mark.parametrize("host", ["", "https://plant.example:8501"])
@pytest.mark.parametrize("turned", [-3.0, 1.5, 6.0])
def test_a_copied_sheet_leads_to_its_unit(host, turned):
    unit_id = IDS[3]
    page = pictures_of(as_pdf(blank_walkdowns(fleet().units, [unit_id], host=host)), 200)[0]
    (read,) = codes_on(copied(page, 7, turned))
    assert units_with(read, IDS) == [unit_id]
    assert unit_link(unit_id) in found_units(read, units_with(read, IDS))


def test_a_code_finds_its_unit_alone_and_says_so_where_there_is_none():
    assert units_with("unit?unit=A-1", ["A-10", "A-1", "a-1"]) == ["A-1"]
    assert units_with("https://plant.example/walkdown/new?unit=A-1", ["A-10"]) == []
    assert "<b>A-1</b>" in found_units("unit?unit=A-1", [])
    assert units_with("http://[", ["A-1"]) == []

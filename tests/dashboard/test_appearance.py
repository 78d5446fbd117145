"""What stands on a page can be read: contrast by WCAG 2, worked out here."""

import json
import re
from dataclasses import asdict
from itertools import product

import pytest

from dashboard import appearance
from scoring.cli.serve import SETTINGS
from scoring.drawing.look_tokens import DARK, LIGHT, SERIES
from scoring.language.reading import NARROW_SPACE, Reading

TEXT, MARK = 4.5, 3.0
THEMES = {"light": LIGHT, "dark": DARK}


def contrast(one, other):
    lower, higher = sorted((luminance(one), luminance(other)))
    return (higher + 0.05) / (lower + 0.05)


def luminance(colour):
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_contrast_of_known_pairs():
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("theme", THEMES)
def test_every_text_can_be_read_on_every_ground(theme):
    tokens = THEMES[theme]
    texts = ("ink", "quiet", "hold", "correct", "watch", "action")
    for text, ground in product(texts, (tokens.ground, tokens.raised)):
        assert contrast(getattr(tokens, text), ground) >= TEXT, (theme, text, ground)


@pytest.mark.parametrize("theme", THEMES)
def test_lines_and_marks_stand_out_from_every_ground(theme):
    tokens = THEMES[theme]
    for mark, ground in product((tokens.rule, *SERIES), (tokens.ground, tokens.raised)):
        assert contrast(mark, ground) >= MARK, (theme, mark, ground)


@pytest.mark.parametrize("theme", THEMES)
def test_what_a_chart_draws_stands_out(theme):
    look = appearance.chart_look(theme)["config"]
    for mark in (*look["range"]["category"], *look["range"]["ordinal"]):
        assert contrast(mark, look["background"]) >= MARK, (theme, mark)


@pytest.mark.parametrize("theme", THEMES)
def test_what_a_chart_says_can_be_read(theme):
    look = appearance.chart_look(theme)["config"]
    said = re.findall(
        r'"(?:\w+Color|color)": "(#\w{6})"', json.dumps([look["text"], look["title"]])
    )
    for part in ("axis", "legend", "header"):
        said += [look[part]["labelColor"], look[part]["titleColor"]]
    assert len(said) == 9
    for colour in said:
        assert contrast(colour, look["background"]) >= TEXT


@pytest.mark.parametrize("theme", THEMES)
def test_the_server_is_told_the_same_colours(theme):
    colours = set(asdict(THEMES[theme]).values())
    told = {
        name: value
        for name, value in SETTINGS.items()
        if name.startswith(f"theme.{theme}.") and value.startswith("#")
    }
    assert len(told) >= 10
    assert set(told.values()) <= colours
    assert SETTINGS[f"theme.{theme}.backgroundColor"] == THEMES[theme].ground


def test_the_style_sheet_has_both_themes_and_fetches_nothing():
    sheet = appearance.style_sheet()
    for tokens in THEMES.values():
        assert all(colour in sheet for colour in asdict(tokens).values())
    assert "url(" not in sheet
    assert "@import" not in sheet


def test_charts_write_numbers_and_months_as_the_person_reads():
    german = appearance.chart_look("light", Reading("de", "point_comma"))["config"]["locale"]
    assert (german["number"]["thousands"], german["number"]["decimal"]) == (".", ",")
    assert german["time"]["months"][4] == "Mai"
    assert german["time"]["days"][0] == "Sonntag"
    english = appearance.chart_look("dark")["config"]["locale"]
    assert english["number"]["thousands"] == NARROW_SPACE

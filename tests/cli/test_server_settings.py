"""Settings of the server: an option before a variable before a file, and faults with their line."""

import pytest
from click.testing import CliRunner
from readme_settings import settings_table, shown_table

from scoring.cli import dashboard_command
from scoring.cli.main import cli
from scoring.cli.server_settings import SETTINGS
from scoring.errors import FixableError


@pytest.fixture
def asked(monkeypatch):
    """Return what runs the command, and tells how the server would have been started."""
    for setting in SETTINGS:
        monkeypatch.delenv(setting.variable, raising=False)
    monkeypatch.delenv("MOUNT_RISK_FLEET", raising=False)
    started = {}

    def serve(environment, **how):
        started.update({**environment, **how})
        return 0

    monkeypatch.setattr(dashboard_command, "serve", serve)

    def run(*arguments, **variables):
        started.clear()
        env = {f"MOUNT_RISK_{name}": value for name, value in variables.items()}
        result = CliRunner().invoke(cli, ["dashboard", *arguments], env=env)
        if result.exception and not isinstance(result.exception, SystemExit):
            raise result.exception
        return started, result

    return run


@pytest.fixture
def settings_file(tmp_path):
    def write(text):
        file = tmp_path / "settings.toml"
        file.write_bytes(text if isinstance(text, bytes) else text.encode())
        return str(file)

    return write


def test_an_option_counts_more_than_a_variable_and_that_more_than_the_file(asked, settings_file):
    file = settings_file('port = 8501\nlog = "a.log"\nno-open = true\naddress = "127.0.0.2"\n')
    started, _ = asked("--settings", file)
    assert (started["port"], started["open_browser"]) == (8501, False)
    assert (started["MOUNT_RISK_LOG"], started["address"]) == ("a.log", "127.0.0.2")
    started, _ = asked("--settings", file, PORT="8502", LOG="b.log")
    assert (started["port"], started["MOUNT_RISK_LOG"]) == (8502, "b.log")
    started, _ = asked("--settings", file, "--port", "8503", PORT="8502")
    assert started["port"] == 8503
    started, _ = asked(SETTINGS=file)
    assert started["port"] == 8501
    started, _ = asked()
    assert (started["port"], started["open_browser"]) == (0, True)


def test_names_and_the_fleet_may_stand_in_each(asked, settings_file):
    file = settings_file('fleet = "demo:small_quarry"\nhost-name = ["plant.example", "b:8443"]\n')
    started, _ = asked("--settings", file)
    assert started["MOUNT_RISK_FLEET"] == "demo:small_quarry"
    assert started["MOUNT_RISK_HOST_NAME"] == "plant.example b:8443"
    started, _ = asked("--settings", file, "--host-name", "c.example", FLEET="demo:grain_port")
    assert started["MOUNT_RISK_FLEET"] == "demo:grain_port"
    assert started["MOUNT_RISK_HOST_NAME"] == "c.example"
    started, _ = asked("--settings", file, "demo:ore_works", FLEET="demo:grain_port")
    assert started["MOUNT_RISK_FLEET"] == "demo:ore_works"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("port = 1\nports = 8501\n", "line 2: ports is no setting; there are fleet, port,"),
        ('log = "x"\nport = "8501"\n', "line 2: port is a whole number, not '8501'"),
        ("port = true\n", "line 1: port is a whole number, not True"),
        ("\n\nport = 99999\n", "line 3: port: 99999 is not in the range"),
        ('no-open = "yes"\n', "line 1: no-open is true or false"),
        ('host-name = "plant.example"\n', "line 1: host-name is a list of texts"),
        ("host-name = [7]\n", "line 1: host-name is a list of texts"),
        ('host-name = ["http://x/"]\n', "line 1: host-name: 'http://x/' is no name such as"),
        ('address = "plant"\n', "line 1: address: 'plant' is no address such as 127.0.0.1"),
        ("[port]\nx = 1\n", "line 1: port is a whole number"),
        ("[server]\nport = 1\n", "line 1: server is no setting"),
        ("port 8501\n", "cannot be read as settings"),
        (b"\xff\xfe\x00", "cannot be read as settings"),
        ("x = " + "[" * 5_000 + "]" * 5_000, "cannot be read as settings"),
        ("#" * 200_000, "has more than 100000 bytes"),
    ],
)  # fmt: skip
def test_a_fault_of_the_file_is_told_with_its_line(asked, settings_file, text, told):
    with pytest.raises(FixableError, match=r"settings\.toml") as refused:
        asked("--settings", settings_file(text))
    assert told in str(refused.value)


def test_a_fault_of_a_variable_is_told_with_its_option(asked):
    _, result = asked(PORT="many")
    assert result.exit_code == 2
    assert "'--port'" in result.output


def test_readme_shows_every_setting_as_it_is_declared():
    """``python tests/cli/readme_settings.py`` writes it anew."""
    assert shown_table()[1] == settings_table()

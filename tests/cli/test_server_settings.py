"""Settings of the server: an option before a variable before a file, and faults with their line."""

from types import SimpleNamespace

import pytest
from click.testing import CliRunner
from readme_settings import settings_table, shown_table

from scoring.access.login_settings import LoginSettings, login_settings
from scoring.cli import dashboard_command
from scoring.cli.main import cli
from scoring.cli.server_settings import SETTINGS
from scoring.errors import FixableError
from scoring.store.open_store import open_store


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
    monkeypatch.delenv("MOUNT_RISK_OIDC_CLIENT_SECRET", raising=False)

    def run(*arguments, **variables):
        started.clear()
        env = {f"MOUNT_RISK_{name}": value for name, value in variables.items()}
        result = CliRunner().invoke(cli, ["dashboard", *arguments], env=env)
        if result.exception and not isinstance(result.exception, SystemExit):
            raise result.exception
        return started, result

    return run


@pytest.fixture
def store(tmp_path, monkeypatch):
    """Return the address of a store whose records nobody checks."""
    checked = SimpleNamespace(how_many_faults=0)
    monkeypatch.setattr(dashboard_command, "load_checked", lambda *_: checked)
    address = f"sqlite:///{tmp_path / 'plant.db'}"
    open_store(address, make=True).close()
    return address


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


SECRET = "hunter2Geheim"  # noqa: S105 - nobody's
LOGIN = """
oidc-issuer = "https://login.plant"
oidc-client-id = "mount-risk"
oidc-client-secret-file = "{file}"
public-url = "https://risk.plant"
"""


def test_a_login_may_stand_in_the_file_its_secret_in_one_of_its_own(
    asked, settings_file, tmp_path, store
):
    kept = tmp_path / "kept"
    kept.write_text(SECRET)
    file = settings_file(LOGIN.format(file=kept))
    started, _ = asked(store, "--settings", file, "--address", "0.0.0.0")  # noqa: S104
    assert started["MOUNT_RISK_LOGIN"] == "yes"
    assert login_settings(started) == LoginSettings(
        "https://login.plant", "mount-risk", SECRET, "https://risk.plant"
    )
    assert SECRET not in repr(started)
    started, _ = asked(store, "--settings", file, OIDC_CLIENT_ID="another")
    assert started["MOUNT_RISK_OIDC_CLIENT_ID"] == "another"
    started, _ = asked(store, "--settings", file, OIDC_CLIENT_SECRET=SECRET)
    assert started["MOUNT_RISK_OIDC_CLIENT_SECRET_FILE"] == ""
    started, _ = asked(store, "--settings", file, "--oidc-issuer", "https://other.plant")
    assert started["MOUNT_RISK_OIDC_ISSUER"] == "https://other.plant"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (f'port = 1\noidc-client-secret = "{SECRET}"\n', "line 2: oidc-client-secret does not"),
        (f'[oidc-client-secret]\nx = "{SECRET}"\n', "line 1: oidc-client-secret does not stand"),
        (f'oidc-client-secret-file = ["{SECRET}"]\n', "oidc-client-secret-file is a text"),
        (LOGIN.format(file=SECRET), "the file named by MOUNT_RISK_OIDC_CLIENT_SECRET_FILE cannot"),
        (f"oidc-client-secret = {SECRET}\n", "cannot be read as settings"),
        (f'oidc-client-secret = "{SECRET}\n', "cannot be read as settings"),
    ],
)
def test_no_fault_of_the_file_tells_a_secret(asked, settings_file, store, text, told):
    with pytest.raises(FixableError) as refused:
        asked(store, "--settings", settings_file(text))
    assert told in str(refused.value)
    assert SECRET not in str(refused.value)
    assert refused.value.__cause__ is None


def test_a_login_that_the_file_gives_in_part_is_refused(asked, settings_file, store):
    with pytest.raises(FixableError, match="MOUNT_RISK_OIDC_CLIENT_ID, MOUNT_RISK_PUBLIC_URL"):
        asked(store, "--settings", settings_file('oidc-issuer = "https://login.plant"\n'))


def test_a_fault_of_a_variable_is_told_with_its_option(asked):
    _, result = asked(PORT="many")
    assert result.exit_code == 2
    assert "'--port'" in result.output


def test_readme_shows_every_setting_as_it_is_declared():
    """``python tests/cli/readme_settings.py`` writes it anew."""
    assert shown_table()[1] == settings_table()

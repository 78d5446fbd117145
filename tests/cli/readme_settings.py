"""The table of the server's settings in README; run this file to write it anew.

``python tests/cli/readme_settings.py`` is for a change of ``scoring/cli/server_settings.py``.
"""

from pathlib import Path

from scoring.cli.server_settings import FLEET, SETTINGS

README = Path(__file__).parents[2] / "README.md"
HEAD = "| setting | variable | what it does |\n| --- | --- | --- |\n"


def settings_table():
    """Return the table as it is declared."""
    rows = [
        f"| `{setting.name}` | `{setting.variable}` | {_whole(setting)} |\n"
        for setting in (FLEET, *SETTINGS)
    ]
    return HEAD + "".join(rows)


def _whole(setting):
    default = setting.option.get("default")
    return setting.help.rstrip(".") + ("" if default is None else f" [{default}]")


def shown_table():
    """Return README before its table, the table, and what is below."""
    before, _, after = README.read_text(encoding="utf-8").partition(HEAD)
    table, _, rest = after.partition("\n\n")
    return before, f"{HEAD}{table}\n", f"\n{rest}"


if __name__ == "__main__":
    before, _, rest = shown_table()
    README.write_text(f"{before}{settings_table()}{rest}", encoding="utf-8")

"""What these pages are, said above every one of them."""

from pathlib import PurePath

DEMO = "demo:"


def what_this_is(fleet_name: str) -> str:
    """Say what these pages show, of which plant, and whether it is invented.

    Parameters
    ----------
    fleet_name : str
        As given on the command line: a folder, a workbook, a store or ``demo:NAME``.

    Examples
    --------
    >>> what_this_is("demo:grain_port").rpartition(". ")[2]
    'Grain port, an invented plant'
    >>> what_this_is("records/north.xlsx").rpartition(". ")[2]
    'Records: north'
    """
    if fleet_name.startswith(DEMO):
        name = fleet_name.removeprefix(DEMO).replace("_", " ")
        plant = f"{name[:1].upper()}{name[1:]}, an invented plant"
    elif "://" in fleet_name:
        plant = "Records: a store"
    else:
        plant = f"Records: {PurePath(fleet_name).stem}"
    what = "how shaft-mounted gear reducers were hung, and what that puts at risk"
    return f"mount-risk: {what}. {plant}"

"""The data of a page as JSON that is small, and that cannot end the element it stands in."""

import json
from typing import Any


def page_data(form: dict[str, Any], **more: object) -> str:
    """Write the data of a page.

    Parameters
    ----------
    form : dict
        The form as ``form_document`` makes it.
    **more : object
        What else the page has to know.

    Returns
    -------
    str
        JSON in which no letter of a name can be read as markup. Steps that units share stand
        once, under ``steps``; each unit names the places of its own there.

    Examples
    --------
    >>> unit = {"unit_id": "</script>", "steps": [{"check": "guard"}]}
    >>> page_data({"units": [unit, unit]}, mode="online").count("guard")
    1
    """
    text = json.dumps(
        {"form": _steps_once(form), **more},
        ensure_ascii=True,
        allow_nan=False,
        separators=(",", ":"),
    )
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


def _steps_once(form: dict[str, Any]) -> dict[str, Any]:
    places: dict[str, int] = {}
    units = []
    for unit in form["units"]:
        own = [_canonical(step) for step in unit["steps"]]
        units.append({**unit, "steps": [places.setdefault(text, len(places)) for text in own]})
    return {**form, "units": units, "steps": [json.loads(text) for text in places]}


def _canonical(step: dict[str, Any]) -> str:
    return json.dumps(step, ensure_ascii=True, allow_nan=False, sort_keys=True)

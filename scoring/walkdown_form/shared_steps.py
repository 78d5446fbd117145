"""A smaller document for many units: what is asked alike of several of them stands once."""

import json
from typing import Any

Document = dict[str, Any]


def share_steps(document: Document) -> Document:
    """Return a form in which each distinct step stands once and units name it by its place.

    Parameters
    ----------
    document : dict
        As ``form_document`` makes it.

    Returns
    -------
    dict
        The same with ``steps`` beside ``units``, and in each unit numbers of such steps. A page
        puts it right by ``unit.steps = unit.steps.map(place => form.steps[place])``.

    Examples
    --------
    >>> step = {"check": "breather"}
    >>> share_steps({"units": [{"steps": [step]}, {"steps": [step]}]})
    {'units': [{'steps': [0]}, {'steps': [0]}], 'steps': [{'check': 'breather'}]}
    """
    places: dict[str, int] = {}
    distinct: list[Document] = []

    def place_of(step: Document) -> int:
        text = json.dumps(step)
        if text not in places:
            places[text] = len(distinct)
            distinct.append(step)
        return places[text]

    units = [
        {**unit, "steps": [place_of(step) for step in unit["steps"]]} for unit in document["units"]
    ]
    return {**document, "units": units, "steps": distinct}

"""What a person reads where a page fails by a fault of ours."""

HEADING = "This page could not be shown"


def own_fault_words(mark: str) -> list[str]:
    """Say what happened, what was not lost, what to do, and how the fault is found.

    Parameters
    ----------
    mark : str
        Stands in the server's log, with all that is known of the fault.

    Returns
    -------
    list of str
        One paragraph each.

    Examples
    --------
    >>> own_fault_words("KRQTMD")[-1]
    'The mark of this fault is KRQTMD. Tell it to whoever looks after these pages: the log has it.'
    """
    return [
        "The program came upon a fault of its own; nothing that you did is wrong.",
        "Nothing was lost: what was said to be saved is in the records.",
        "Open the page again. If it fails again, go on with another page.",
        (
            f"The mark of this fault is {mark}. Tell it to whoever looks after these pages: "
            "the log has it."
        ),
    ]

"""Does a person mean a store, or files? Known without waiting for what a store needs."""

DEFAULT_STORE = "sqlite:///mount-risk.db"
"""One file in the folder in which the command is started."""


def is_store_address(where: str) -> bool:
    """Tell whether a person means a store rather than files.

    Examples
    --------
    >>> is_store_address("sqlite:///plant.db"), is_store_address("demo:grain_port")
    (True, False)
    """
    return "://" in where

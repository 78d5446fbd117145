"""One page a file: ask, present, show."""

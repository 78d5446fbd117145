"""Where to look next: what seeing a check is worth, and a route for the hours there are."""

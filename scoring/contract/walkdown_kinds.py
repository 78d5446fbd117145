"""Why a unit is looked at."""

POST_INSTALL = "post_install"
AFTER_START = "after_start"
PERIODIC = "periodic"
AFTER_REWORK = "after_rework"
WALKDOWN_KINDS = (POST_INSTALL, AFTER_START, PERIODIC, AFTER_REWORK)

ONCE_STARTED = (AFTER_START, PERIODIC, AFTER_REWORK)
"""The kinds of visit to a unit that has run since it was first hung."""

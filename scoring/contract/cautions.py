"""The usual cautions, beside everything that tells somebody to do something to a machine."""

CAUTIONS = (
    "Before any work: lock out and tag out; secure stored energy (belt take-up, roll-back on "
    "inclines); never stand under a suspended unit; mind hot surfaces; guards back before "
    "start-up. The unit's own manual, local codes and licensed practice come first. "
    "No verdict here is a permission to run."
)

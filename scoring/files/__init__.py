"""The only place that touches a disk: fleets in, tables out."""

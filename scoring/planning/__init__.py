"""Which re-work to do in which shutdown."""

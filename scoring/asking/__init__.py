"""What people ask of a fleet, one question a file: for the command line, pages and notebooks alike.

Read or take records, judge them, plan, look, learn, write it all out. ``import scoring`` offers
the part that is meant for a notebook or a pipeline.
"""

"""Entering by hand: drafts, photos, signatures, releases, and records written down one by one.

What a person enters is checked and judged beside the records of its unit before it becomes one of
the records in ``scoring.store``; entering rests on the store, and the store knows nothing of it.
"""

"""The store: records, drafts, photos, people, sign-offs and their history in a database.

SQLite in one file, or PostgreSQL; the same code for both, through SQLAlchemy. The tables of the
contract are declared once, in ``scoring.contract``; everything that changes them takes an actor
and leaves a line in a history that nothing may change.
"""

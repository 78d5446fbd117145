"""The store: the records in a database, with every version of each and the history of every change.

SQLite in one file, or PostgreSQL, the same code for both; here is how records get in and out of
it (load, read, export, backup, restore, migrate), and ``scoring.entering`` is what people enter.
"""

"""What is said of a store that cannot be used is said in German on German pages."""

import sqlite3

import pytest
from left_in_english import left_in_english
from sqlalchemy.exc import DatabaseError, OperationalError

from scoring.store.said_by_the_database import in_words
from scoring.store.whole_text import not_whole

PLACE = "sqlite:///plant.db"
OF_SQLITE = (
    "database is locked",
    "disk I/O error",
    "database or disk is full",
    "attempt to write a readonly database",
    "database disk image is malformed",
    "no such table: units",
    "unable to open database file",
    "file is not a database",
)


@pytest.mark.parametrize("said", OF_SQLITE)
def test_what_sqlite_says(said):
    kind = DatabaseError if "malformed" in said else OperationalError
    error = in_words(kind("SELECT 1", {}, sqlite3.OperationalError(said)), PLACE, 60)
    assert left_in_english(str(error)) == [], str(error)


@pytest.mark.parametrize("said", ["a\0b", "a" * 5000, "\ud800"])
def test_what_no_store_can_hold(said):
    words = f"the reason {not_whole(said, 100)}"
    assert left_in_english(words) == [], words

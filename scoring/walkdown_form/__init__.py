"""What an inspector is asked, in walking order: as data, and as one page for a phone."""

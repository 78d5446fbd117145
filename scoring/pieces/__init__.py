"""A fleet in pieces: more records than memory holds, ranked a few thousand units at a time."""

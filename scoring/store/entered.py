"""What a route that was filled in without a network brings beside its walkdowns."""

from scoring.store.photos import encode_photo
from scoring.store.photos import keep_photo as keep_encoded
from scoring.store.sign_offs import keep_not_seen, keep_sign_off
from scoring.store.writing import Writing

__all__ = ["keep_not_seen", "keep_photo", "keep_sign_off"]


def keep_photo(writing: Writing, walkdown_id: str, check: str, image: bytes) -> str:
    """Check, re-encode and keep a photo; return its name."""
    return keep_encoded(writing, walkdown_id, check, encode_photo(image))

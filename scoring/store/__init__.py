"""The store: records, drafts, photos, people, sign-offs and their history in a database."""

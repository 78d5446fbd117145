"""Steps from one schema of the store to the next, in order."""

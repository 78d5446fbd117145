"""One step a file. A step is never changed after it was released."""

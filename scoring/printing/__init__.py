"""From a sheet to bytes: told as its reader reads, then set as PDF or as HTML."""

"""Pages that show what ``scoring`` says; no domain logic lives here."""

"""What a reader gets: a document composed once, and one writer for each format. Nothing is computed here."""

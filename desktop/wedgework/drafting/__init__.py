"""Numbers or pieces in, new pieces out."""

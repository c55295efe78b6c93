"""Project in, findings out."""

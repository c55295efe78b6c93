"""The immutable document, everything that is saved, and its measures."""

"""Plane curves: length, turning, split, offset, crossing, fitting. No garment word in here."""

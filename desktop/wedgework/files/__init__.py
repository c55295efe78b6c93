"""Bytes to and from project or drawing."""

"""Wedgework. Will these pieces join, and will the joined shape fit."""

__version__ = "0.1.0"

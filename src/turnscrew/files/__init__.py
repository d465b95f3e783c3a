"""Formats: text to values and back, every problem with its place."""

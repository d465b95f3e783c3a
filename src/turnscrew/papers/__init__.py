"""Sheets of paper made from plain values: one module per sheet."""

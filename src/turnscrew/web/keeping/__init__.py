"""Backup, restore, export, erasure."""

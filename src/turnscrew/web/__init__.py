"""The workshop's records and their pages."""

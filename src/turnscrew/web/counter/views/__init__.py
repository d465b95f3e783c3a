"""One module a family of pages."""

"""How figures read on the pages."""

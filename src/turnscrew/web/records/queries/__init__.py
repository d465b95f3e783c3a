"""All that reads; each read decides whether this person may see what it gives."""

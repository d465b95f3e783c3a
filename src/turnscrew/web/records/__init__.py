"""Tables, and all that reads and writes them."""

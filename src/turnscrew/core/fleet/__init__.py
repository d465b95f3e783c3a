"""What is asked about a fleet and what comes out: shapes alone."""

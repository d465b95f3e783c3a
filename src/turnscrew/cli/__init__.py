"""The command line: files, clock and screen meet the pure code here."""

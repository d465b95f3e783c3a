"""The web server, and HTTPS for the room's network."""

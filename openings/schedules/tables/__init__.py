"""Where in a file its tables stand, and which of them are read."""

"""The lines of a table → rows, everything wrong in them, and what must be settled about them."""

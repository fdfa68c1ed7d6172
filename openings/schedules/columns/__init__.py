"""What each column of a table says: plain, likely, settled or asked."""

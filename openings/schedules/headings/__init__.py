"""What the words of a heading mean, alone: as they stand, or by likeness."""

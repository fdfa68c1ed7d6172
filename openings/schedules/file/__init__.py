"""What a file is and how far it may be unpacked, before its cells are laid out."""

"""What is put together before it is written: read only, as plain values."""

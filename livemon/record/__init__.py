"""Recordings: the line format, writing, reading, the library."""

"""Snaps, one file each: a kind of place near the pointer, its word, and what it becomes."""

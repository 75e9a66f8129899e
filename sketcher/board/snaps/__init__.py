"""Snaps, one file each: a kind of place near the pointer, its word, and what it becomes.

A snap reads the part and the pointer alone; which of several is meant is chosen elsewhere.
"""

"""Lengths and angles: text to numbers, numbers to text, named parameters."""

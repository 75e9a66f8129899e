"""Curves as plain values, and the questions that can be asked of them; one module a question."""

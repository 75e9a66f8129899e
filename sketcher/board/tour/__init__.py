"""A first part, step by step: prompts that look at what was drawn.

Gives `Tour` and the prompts of `prompts/`, one a file. Knows the board; no tool knows of it.
"""

"""Opening, saving and writing what leaves the program, and the questions before a file is replaced.

Contents come from the core; nothing here writes but by its atomic writer.
"""

"""Classical constructions with straightedge and compass, one a file.

Each takes the slate and the names of what is there, draws its strokes, says its sentence and
returns the name of what it has made. Euclid's propositions stand beside those that have one
(*Elements*, numbers from memory); the rest are usual at the drawing board (common practice, no
source).
"""

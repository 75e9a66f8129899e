"""From the pointer to a place: picking what is there, snapping to it, and why it is meant.

Nothing here changes the part; what a place would bind waits until the geometry is drawn.
"""

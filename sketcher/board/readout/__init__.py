"""The live digits under the scene: their rows, what is typed into them, and where they count from.

A value that is held binds nothing by itself: the tool in hand does that.
"""
